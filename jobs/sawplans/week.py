"""Which parts are sawn for the installs of a week, how long, and which cannot be yet?"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from fitcheck.rules.length import length_parse, mm_text
from jobs.bookings.models import Booking, State, Visit
from jobs.installs.models import Mark, MarkState
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing

WEEK = timedelta(days=7)
NEAR = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Gathered:
    """The parts of a week with their lengths, and what was left out and why."""

    pieces: list[dict[str, Any]]
    left_out: list[dict[str, str]]


def monday_before(day: date) -> date:
    """Give the Monday of the week that a day is in."""
    return day - timedelta(days=day.weekday())


def week_gather(*, monday: date) -> Gathered:
    """Gather the cuts of every opening whose install is booked in a week of its site's calendar."""
    pieces: list[dict[str, Any]] = []
    left_out: list[dict[str, str]] = []
    for job in _jobs(monday):
        openings = job.openings.select_related("kit", "job__site").order_by("pk")
        for opening in openings:
            for found in _cuts(job, opening):
                (left_out if "why" in found else pieces).append(found)
    return Gathered(pieces, left_out)


def _jobs(monday: date) -> list[Job]:
    """Jobs with an install booked in the week, in the order of their visits."""
    start = datetime.combine(monday, time(), UTC)
    rows = Booking.objects.filter(
        state=State.BOOKED,
        visit=Visit.INSTALL,
        starts_at__gte=start - NEAR,
        starts_at__lt=start + WEEK + NEAR,
    ).select_related("job__site")
    found = {}
    for booking in rows.order_by("starts_at", "pk"):
        day = booking.starts_at.astimezone(ZoneInfo(booking.job.site.time_zone)).date()
        if monday <= day < monday + WEEK:
            found[booking.job_id] = booking.job
    return list(found.values())


def _cuts(job: Job, opening: Opening) -> list[dict[str, Any]]:
    if opening.installs.filter(finished_at__isnull=False).exists():
        return []  # sawn and fixed already
    verdict = verdict_standing(opening=opening)
    place = {"job": job.number, "opening": opening.number}
    if verdict is None:
        return [{**place, "part": "all", "why": "It was not surveyed for a kit yet."}]
    if verdict_outdated(verdict=verdict):
        why = "It was surveyed again, or described otherwise, since its verdict: ask for it anew."
        return [{**place, "part": "all", "why": why}]
    released = marks_released(opening=opening)
    return [_cut(place, verdict, cut, released) for cut in verdict.result["cuts"]]


def _cut(
    place: dict[str, str], verdict: Verdict, cut: dict[str, Any], released: dict[str, str]
) -> dict[str, Any]:
    part = str(cut["part"])
    told = {**place, "part": part}
    if part in released:
        length, because, kind = released[part], "released mark", "released"
    elif cut["length"] is None:
        return {**told, "why": "Its length is not known: a reading is missing."}
    elif cut["state"] == "fails":
        return {**told, "why": "Its verdict fails: it may not be sawn as it stands."}
    else:
        length, because = _predicted(cut)
        kind = "predicted"
    profile = f"{verdict.sheet.kit.slug} {part}"
    size = {"length": length, "count": cut["count"]}
    return {**told, "profile": profile, **size, "status": kind, "because": because}


def _predicted(cut: dict[str, Any]) -> tuple[str, str]:
    """The predicted length and what the sheet allows beside it, so that the mark still lies inside."""
    predicted = length_parse(cut["length"]["mm"]).nm
    allowance = cut["allowance"]
    if not allowance:
        return mm_text(predicted), f"predicted {cut['length']['inch']}, no allowance in the sheet"
    length = mm_text(predicted + length_parse(allowance).nm)
    return length, f"predicted {cut['length']['inch']} + allowance {allowance}"


def marks_released(*, opening: Opening) -> dict[str, str]:
    """Give the saw marks of an opening that stand: the last one asked for each part, if it is released."""
    last: dict[str, Mark] = {}
    marks = Mark.objects.filter(install__opening=opening).order_by("received_at", "pk")
    for mark in marks.only("part", "state", "length"):
        last[mark.part] = mark
    return {part: mark.length for part, mark in last.items() if mark.state == MarkState.RELEASED}
