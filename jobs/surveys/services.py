"""How does a survey come in? Readings, zones and verdict in one transaction; a retry is harmless."""

from dataclasses import dataclass, field
from typing import Any

from contractor.api.callers import Caller
from contractor.api.facts import check_same, kept_once, taken
from contractor.api.problems import Problem
from contractor.api.together import insert_together
from contractor.notices.services import notice_of
from contractor.people.models import Member
from fitcheck.rules.survey import Reading as ReadingRead
from fitcheck.rules.survey import Zone as ZoneRead
from jobs.jobs.life import job_follow
from jobs.jobs.models import State as JobState
from jobs.openings.models import Opening
from jobs.surveys.before import before_survey
from jobs.surveys.body import SurveyBody
from jobs.surveys.models import Photo, Reading, Survey, Zone
from jobs.verdicts.services import Heads, heads_with, verdict_work_out


@dataclass(slots=True)
class Received:
    """What became of a survey: its rows, the verdict if one could be given, and whether it is new."""

    survey: Survey
    is_new: bool
    verdict: Any = None
    readings: list[Reading] = field(default_factory=list)
    zones: list[Zone] = field(default_factory=list)
    missing_photos: list[str] = field(default_factory=list)


def survey_receive(*, by: Caller, body: SurveyBody, opening: int, author: Member) -> Received:
    """Take a survey of the opening with this key in; writes survey, readings, zones, verdict and one
    notice, or nothing.

    Announces `survey.received`. The same body again changes nothing and answers as before.

    Raises:
        Problem: no such opening, or an id is taken by other content; the refused body is kept aside
            for a person.
    """
    return kept_once(
        lambda: _receive(by=by, body=body, opening=opening, author=author), lambda: _taken(body)
    )


def _receive(*, by: Caller, body: SurveyBody, opening: int, author: Member) -> Received:
    before = before_survey(opening=opening, survey=body.id, kit=body.kit)
    if before.is_known:
        return _again(Survey.objects.get(pk=body.id), body)
    _check_supersedes(body, before.opening)
    survey = _survey(by, body, before.opening, author)
    received = Received(survey, True)
    received.readings, received.zones = _readings(survey, body), _zones(survey, body)
    received.missing_photos = photos_missing(body.photos)
    if before.sheet is not None:
        heads = heads_with(before.earlier, Heads(survey, received.readings, received.zones))
        received.verdict = verdict_work_out(
            by=by,
            opening=before.opening,
            heads=heads,
            sheet=before.sheet,
            size=body.size,
            read=body.read,
        )
    _write(by, received, before.opening)
    if before.opening.job.state == JobState.ENQUIRY and not before.others_wait:
        job_follow(by=by, job=before.opening.job, action="survey")
    return received


def _write(by: Caller, received: Received, opening: Opening) -> None:
    verdict = received.verdict
    changes = {"survey": [None, str(received.survey.id)], "readings": [0, len(received.readings)]}
    if verdict is not None:
        changes |= {"verdict": [None, str(verdict.id)], "state": [None, verdict.state]}
    notice = notice_of(by=by, type="survey.received", about=opening.number, changes=changes)
    verdicts = [verdict] if verdict is not None else []
    insert_together([received.survey], received.readings, received.zones, verdicts, [notice])


def _again(earlier: Survey, body: SurveyBody) -> Received:
    """Answer a repeated survey from what is kept."""
    check_same(earlier, body.digest, "survey")
    return Received(
        earlier,
        False,
        earlier.verdicts.select_related("sheet__kit").order_by("given_at", "pk").first(),
        list(earlier.readings.all()),
        list(earlier.zones.all()),
        photos_missing(earlier.photos),
    )


def _check_supersedes(body: SurveyBody, opening: Opening) -> None:
    if body.supersedes is None:
        return
    if not Survey.objects.filter(pk=body.supersedes, opening=opening).exists():
        raise Problem(
            "survey_unknown",
            f"{opening.number} has no survey {body.supersedes}.",
            hint="Name a survey of the same opening.",
            pointer="/supersedes",
        )
    newer = Survey.objects.filter(supersedes=body.supersedes).first()
    if newer is not None:
        raise superseded(body.supersedes, newer, "/supersedes")


def superseded(survey: Any, newer: Survey, pointer: str) -> Problem:
    """Refuse to build on a survey that a later one replaces."""
    return Problem(
        "survey_superseded",
        f"The survey {survey} was superseded by {newer.id}.",
        status=409,
        hint=f"Use {newer.id} instead.",
        pointer=pointer,
        superseded_by=str(newer.id),
    )


def _survey(by: Caller, body: SurveyBody, opening: Opening, author: Member) -> Survey:
    return Survey(
        id=body.id,
        opening=opening,
        measured_by=author,
        taken_at=body.taken_at,
        caller=by.key,
        app=body.app,
        supersedes=body.supersedes,
        obstructions=body.obstructions,
        photos=body.photos,
        notes=body.notes,
        digest=body.digest,
    )


def _readings(survey: Survey, body: SurveyBody) -> list[Reading]:
    return [
        _reading(survey, sent, read)
        for sent, read in zip(body.readings, body.read.readings, strict=True)
    ]


def _reading(survey: Survey, sent: dict[str, Any], read: ReadingRead) -> Reading:
    return Reading(
        id=read.id,
        survey_id=survey.id,
        opening_id=survey.opening_id,
        quantity=read.quantity,
        side=read.side,
        height=read.height.entered if read.height else "",
        over=read.over.entered if read.over else "",
        value=read.value.entered,
        value_nm=read.value.nm,
        tool=sent["tool"],
        read_by=read.read_by,
        taken_at=read.taken_at,
        replaces=sent.get("replaces") or [],
        note=sent.get("note") or "",
        confirmed=sent.get("confirmed") is True,
    )


def _zones(survey: Survey, body: SurveyBody) -> list[Zone]:
    return [
        _zone(survey, sent, read) for sent, read in zip(body.zones, body.read.zones, strict=True)
    ]


def _zone(survey: Survey, sent: dict[str, Any], read: ZoneRead) -> Zone:
    build_up = {k: v for k, v in sent.items() if k not in ("id", "replaces")}
    return Zone(
        id=read.id,
        survey_id=survey.id,
        opening_id=survey.opening_id,
        build_up=build_up,
        replaces=sent.get("replaces") or [],
    )


def photos_missing(digests: list[str]) -> list[str]:
    """List the photos that are named but not yet here."""
    if not digests:
        return []
    here = set(Photo.objects.filter(pk__in=digests).values_list("pk", flat=True))
    return [one for one in digests if one not in here]


def _taken(body: SurveyBody) -> Problem:
    """Say which id of a refused survey is taken by other content."""
    for rows, name in ((body.readings, "readings"), (body.zones, "zones")):
        model: Any = Reading if name == "readings" else Zone
        held = {
            str(pk)
            for pk in model.objects.filter(pk__in=[r["id"] for r in rows]).values_list(
                "pk", flat=True
            )
        }
        for index, row in enumerate(rows):
            if row["id"] in held:
                text = f"The id {row['id']} was used for another row of {name}."
                return taken(text, f"/{name}/{index}/id")
    return taken(f"The survey id {body.id} was used a moment ago.", "/id")
