"""Until when is an installed kit warranted? By the sheet's years from the day of the install."""

from datetime import date
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.models import Notice
from contractor.notices.services import notice_of, notices_record
from fitcheck.kits.models import RuleSheet
from fitcheck.rules.deadlines import answer
from jobs.claims.models import Warranty
from jobs.openings.models import Opening
from jobs.verdicts.many import verdicts_standing
from jobs.verdicts.services import verdict_standing


@transaction.atomic
def warranty_note(*, by: Caller, opening: Opening, installed_on: date) -> Warranty:
    """Note what the sheet promises for an installed opening, once; announces `warranty.noted`.

    Raises:
        Problem: it is noted already, or no sheet is known that promises anything.
    """
    if Warranty.objects.filter(opening=opening).exists():
        raise Problem(
            "warranty_known",
            f"{opening.number} has its warranty.",
            status=409,
            hint=f"See /api/v1/warranties/?opening={opening.number}.",
            pointer="/opening",
        )
    sheet = sheet_of(opening)
    if sheet is None or not sheet.body.get("warranty"):
        raise Problem(
            "no_warranty_sheet",
            f"No sheet is known that promises anything for {opening.number}.",
            status=409,
            hint="Choose its kit and ask for a verdict with the sheet that was in the box.",
            pointer="/opening",
        )
    return _noted(by, [_warranty(opening, sheet, installed_on)])[0]


def _warranty(opening: Opening, sheet: RuleSheet, installed_on: date) -> Warranty:
    clock = _clock(sheet, installed_on)
    return Warranty(
        site_id=opening.job.site_id,
        opening=opening,
        sheet=sheet,
        installed_on=installed_on,
        ends_on=date.fromisoformat(clock["ends_on"]),
        terms=sheet.body["warranty"].get("terms", "")[:500],
        source=clock["source"],
    )


def _noted(by: Caller, rows: list[Warranty]) -> list[Warranty]:
    """Write warranties, however many, each with its notice."""
    made = Warranty.objects.bulk_create(rows)
    notices_record(_notice(by, one) for one in made)
    return made


def _notice(by: Caller, row: Warranty) -> Notice:
    ends = row.ends_on.isoformat()
    changes = {"opening": [None, row.opening.number], "ends_on": [None, ends]}
    return notice_of(by=by, type="warranty.noted", about=row.number, changes=changes)


def sheet_of(opening: Opening) -> RuleSheet | None:
    """Find the edition that the opening's verdict was given for."""
    verdict = verdict_standing(opening=opening)
    return verdict.sheet if verdict is not None and opening.kit_id else None


def _clock(sheet: RuleSheet, installed_on: date) -> dict[str, Any]:
    promise, document = sheet.body["warranty"], sheet.body["document"]
    told = {"title": document["title"], "edition": document["edition"]}
    own = {name: promise[name] for name in ("years", "page")}
    inputs = {"installed_on": installed_on.isoformat(), "sheet": {**told, "warranty": own}}
    found: Any = answer(inputs)["clocks"]
    return dict(next(one for one in found if one["clock"].startswith("warranty")))


def warranties_follow(*, by: Caller, openings: list[Opening], installed_on: date) -> None:
    """Note the warranties of a job's openings that have a sheet and none yet, in few statements.

    Announces `warranty.noted` for each.
    """
    standing = verdicts_standing(openings=openings)
    noted = Warranty.objects.filter(opening__in=openings)
    known = set(noted.values_list("opening_id", flat=True))
    rows = []
    for one in openings:
        verdict = standing.get(one.pk) if one.kit_id else None
        promises = verdict is not None and verdict.sheet.body.get("warranty")
        if verdict is not None and promises and one.pk not in known:
            rows.append(_warranty(one, verdict.sheet, installed_on))
    if rows:
        _noted(by, rows)
