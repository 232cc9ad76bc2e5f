"""What do an install's records, marks and handover say together?"""

from jobs.installs.models import Install, Kind, MarkState, RecordState
from jobs.installs.order import Fact, Standing, standings
from jobs.installs.stops import HANDED_OVER, cut_key


def facts_of(install: Install) -> list[Fact]:
    """Collect every fact that may settle or hold a stop."""
    facts = [
        Fact(one.stop, one.taken_at, one.state, str(one.pk), one.said_by, tuple(one.outcome["do"]))
        for one in install.records.all()
        if one.kind in {Kind.STOP, Kind.SKIP, Kind.SAWN} and one.state != RecordState.NOTED
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
