"""What do an install's records, marks and handover say together?"""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import prefetch_related_objects

from jobs.installs.models import Install, Kind, MarkState, Record, RecordState
from jobs.installs.order import Fact, Standing, first_open, standings
from jobs.installs.stops import HANDED_OVER, cut_key
from jobs.jobs.models import Job

SETTLING = frozenset({Kind.STOP, Kind.SKIP, Kind.SAWN, Kind.LOOKED})


def facts_of(install: Install) -> list[Fact]:
    """Collect every fact that may settle or hold a stop."""
    facts = [
        Fact(
            one.stop, one.taken_at, one.state, str(one.pk), _said_by(one), tuple(one.outcome["do"])
        )
        for one in install.records.all()
        if one.kind in SETTLING and one.state != RecordState.NOTED
    ]
    for mark in install.marks.all():
        state = RecordState.DONE if mark.state == MarkState.RELEASED else RecordState.HELD
        hold = tuple(mark.result["hold"])
        stop, key, in_turn = cut_key(mark.part), str(mark.pk), state == RecordState.DONE
        facts.append(Fact(stop, mark.taken_at, state, key, mark.said_by, hold, in_turn))
    for one in install.handovers.all():
        lacks = tuple(one.lacks())
        state = RecordState.INCOMPLETE if lacks else RecordState.DONE
        facts.append(Fact(HANDED_OVER, one.signed_at, state, str(one.pk), one.said_by, lacks))
    return facts


def _said_by(record: Record) -> str:
    """Who says so; of a stop that a second person settled, both."""
    first = record.outcome.get("first", "")
    return f"{first}, looked at by {record.said_by}" if first else record.said_by


def record_at(install: Install, walked: list[Standing], key: str) -> Record | None:
    """The record of a stop behind what settled it, also where a second person's look did."""
    fact = next((one.fact for one in walked if one.stop["key"] == key), None)
    rows = install.records.select_related("author")
    record = rows.filter(pk=fact.key).first() if fact else None
    if record is not None and record.kind == Kind.LOOKED:
        return rows.filter(pk=record.outcome["confirms"]).first()
    return record


def snags_open(install: Install) -> list[dict[str, str]]:
    """Snags that nobody has put right yet."""
    rows = list(install.records.all())
    fixed = {one.body.get("fixes") for one in rows if one.kind == Kind.SNAG_FIXED}
    return [
        {"id": str(one.pk), "note": one.body["note"], "said_by": one.said_by}
        for one in rows
        if one.kind == Kind.SNAG and str(one.pk) not in fixed
    ]


def walked_of(install: Install) -> list[Standing]:
    """Where every stop of an install stands."""
    return standings(install.stops, facts_of(install))


def still_open(walked: list[Standing]) -> Standing | None:
    """The first stop that keeps the install from being finished; the handover may come later."""
    return first_open(walked, until=HANDED_OVER)


@dataclass(frozen=True, slots=True)
class InstallStanding:
    """Where the installs of a job stand together; `cured_at` may still lie ahead."""

    started: bool
    open_hold_points: tuple[str, ...]
    finished_at: datetime | None
    cured_at: datetime | None


def install_standing(*, job: Job) -> InstallStanding:
    """Tell whether a job's installs were started, what is open, when they were finished and dry.

    Finished and dry are told only when every opening of the job has an install that is.
    """
    installs = list(Install.objects.filter(booking__job=job))
    under_way = [one for one in installs if one.finished_at is None]
    prefetch_related_objects(under_way, "records", "marks", "handovers")
    last = {one.opening_id: one for one in installs}
    # An opening that was dropped from its job is not waited for.
    wanted = {one.pk for one in job.openings.all() if not getattr(one, "dropped_why", "")}
    done = bool(last) and wanted <= set(last)
    open_stops = [
        f"O-{one.opening_id:04d}: {wanting.stop['title']}"
        for one in last.values()
        if one.finished_at is None and (wanting := still_open(walked_of(one)))
    ]
    return InstallStanding(
        bool(installs),
        tuple(open_stops),
        _last_of([one.finished_at for one in last.values()] if done else []),
        _last_of([one.earliest_use for one in last.values()] if done else []),
    )


def _last_of(moments: list[datetime | None]) -> datetime | None:
    """The last of several moments; None while one of them is not known."""
    known = [one for one in moments if one is not None]
    return max(known) if known and len(known) == len(moments) else None
