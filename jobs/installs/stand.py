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
        facts.append(
            Fact(cut_key(mark.part), mark.taken_at, state, str(mark.pk), mark.said_by, hold)
        )
    for one in install.handovers.all():
        key = str(one.pk)
        facts.append(Fact(HANDED_OVER, one.signed_at, RecordState.DONE, key, one.said_by))
    return facts


def walked_of(install: Install) -> list[Standing]:
    """Where every stop of an install stands."""
    return standings(install.stops, facts_of(install))
