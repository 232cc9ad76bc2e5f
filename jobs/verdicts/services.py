"""Does this kit fit this opening? Worked out from the readings that nobody has replaced, and frozen."""

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.api.written import Written
from contractor.notices.services import notice_record
from fitcheck.check import VERSIONS, check
from fitcheck.kits.models import RuleSheet
from fitcheck.kits.services import sheet_digest
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.survey import Survey as SurveyRead
from jobs.openings.models import Opening
from jobs.surveys.models import Reading, Survey, Zone
from jobs.verdicts.models import Verdict


@dataclass(frozen=True, slots=True)
class Heads:
    """The readings and zones of one opening that nobody has replaced."""

    survey: Survey
    readings: list[Reading]
    zones: list[Zone]


def heads_of(opening: Opening) -> Heads | None:
    """Collect what stands of all surveys of an opening; None when there is none."""
    surveys = list(Survey.objects.filter(opening=opening))
    if not surveys:
        return None
    return _standing(
        surveys, Reading.objects.filter(opening=opening), Zone.objects.filter(opening=opening)
    )


def heads_with(earlier: list[Survey], newest: Heads) -> Heads:
    """Collect what will stand of an opening once the newest survey is written beside the earlier."""
    readings, zones = newest.readings, newest.zones
    if earlier:
        opening = newest.survey.opening_id
        readings = [*Reading.objects.filter(opening_id=opening), *readings]
        zones = [*Zone.objects.filter(opening_id=opening), *zones]
    return _standing([*earlier, newest.survey], _in_order(readings), _in_order(zones))


def _in_order(rows: list[Any]) -> list[Any]:
    """Sort rows as the database does, so that one set of readings gives one digest of inputs."""
    return sorted(rows, key=lambda row: (row.survey_id, row.id))


def _standing(surveys: list[Survey], readings: Any, zones: Any) -> Heads:
    gone = {one.supersedes for one in surveys if one.supersedes}
    last = [one for one in surveys if one.id not in gone][-1]
    return Heads(
        last,
        unreplaced(one for one in readings if one.survey_id not in gone),
        unreplaced(one for one in zones if one.survey_id not in gone),
    )


def unreplaced(rows: Any) -> list[Any]:
    """Leave out rows that another row of the same opening replaces.

    Rows that replace one another in a ring, or themselves, all stand: no reading is lost.
    """
    found = {str(row.id): row for row in rows}
    named = {one for row in found.values() for one in row.replaces}
    todo = [row for key, row in found.items() if key not in named]
    gone: set[str] = set()
    while todo:
        fresh = {one for one in todo.pop().replaces if one in found} - gone
        gone |= fresh
        todo += [found[one] for one in fresh]
    return [row for key, row in found.items() if key not in gone]


def inputs_for(
    opening: Opening, heads: Heads, sheet: RuleSheet, size: str | None
) -> dict[str, Any]:
    """Gather everything that decides the verdict; the sheet stands in by its digest."""
    return {
        "opening": opening.facts(),
        "readings": [one.as_input() for one in heads.readings],
        "zones": [one.as_input() for one in heads.zones],
        "sheet": sheet.reference(),
        "size": size,
        "house": {"mark": settings.INCH_MARK},
    }


def verdict_work_out(
    *,
    by: Caller,
    opening: Opening,
    heads: Heads,
    sheet: RuleSheet,
    size: str | None,
    read: SurveyRead | None = None,
) -> Verdict:
    """Work out one verdict; the caller writes and announces it, and may lend the rows it has read.

    Raises:
        InputErrors: a reading or the size is malformed.
    """
    inputs = inputs_for(opening, heads, sheet, size)
    answer = check(inputs, sheet.parsed(), read)
    return Verdict(
        opening=opening,
        survey=heads.survey,
        sheet=sheet,
        state=answer.state,
        rules_version=answer.rules_version,
        inputs=inputs,
        inputs_digest=answer.inputs_digest,
        result=Written.of(answer.as_json()),
        given_by=by.name,
    )


@transaction.atomic
def verdict_give(
    *, by: Caller, opening: Opening, sheet: RuleSheet, size: str | None = None
) -> Verdict:
    """Answer for another kit from the readings at hand; announces `verdict.given`.

    Raises:
        Problem: the opening has no survey yet.
    """
    heads = heads_of(opening)
    if heads is None:
        raise Problem(
            "no_survey",
            f"{opening.number} has not been surveyed.",
            status=409,
            hint="Post a survey of it first.",
        )
    verdict = verdict_work_out(by=by, opening=opening, heads=heads, sheet=sheet, size=size)
    verdict.save(force_insert=True)
    notice_record(
        by=by,
        type="verdict.given",
        about=opening.number,
        changes={"verdict": [None, str(verdict.id)], "state": [None, verdict.state]},
    )
    return verdict


def verdict_standing(*, opening: Opening) -> Verdict | None:
    """Find the verdict that counts: the newest, for the kit decided on if one is."""
    verdicts = Verdict.objects.filter(opening=opening).select_related(
        "sheet__kit", "survey", "opening__job__site"
    )
    if opening.kit_id:
        verdicts = verdicts.filter(sheet__kit_id=opening.kit_id)
    return verdicts.order_by("-given_at", "-pk").first()


def verdict_outdated(*, verdict: Verdict) -> bool:
    """Tell whether the opening was surveyed again, or described otherwise, after this verdict."""
    newest = (
        Survey.objects.filter(opening_id=verdict.opening_id)
        .order_by("-received_at", "-id")
        .values_list("pk", flat=True)
        .first()
    )
    surveyed_again: bool = newest is not None and newest != verdict.survey_id
    return surveyed_again or verdict.inputs["opening"] != verdict.opening.facts()


def verdict_replay(*, verdict: Verdict) -> list[str]:
    """Work a kept verdict out again by the rules it was given by; returns what differs, by member.

    The row's own columns and the sheet's digest are held against it too, so that a copy changed by
    hand in any of its parts is told.
    """
    sheet = verdict.sheet
    version = verdict.rules_version if verdict.rules_version in VERSIONS else RULES_VERSION
    again = check(verdict.inputs, sheet_parse(sheet.body), version=version).as_json()
    names = sorted(set(again) | set(verdict.result))
    differs = [name for name in names if again.get(name) != verdict.result.get(name)]
    for name in ("state", "inputs_digest", "rules_version"):
        if getattr(verdict, name) != again[name] and name not in differs:
            differs.append(name)
    if not verdict.inputs["sheet"]["digest"] == sheet.digest == sheet_digest(sheet.body):
        differs.append("sheet")
    return differs
