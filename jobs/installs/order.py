"""Which stops are settled, which record came out of order, and what is next?

Facts may arrive late and in any order; each has its own time. A fact counts for its stop when every
stop before it was settled at the time of the fact. What does not count is kept and told, never dropped.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

SETTLED = frozenset({"done", "skipped"})
# House setting: two tablets' clocks may differ by this much without putting facts out of order.
CLOCKS_DIFFER = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class Fact:
    """One record, saw mark or handover as the order sees it."""

    stop: str
    at: datetime
    state: str
    key: str
    by: str = ""
    do: tuple[str, ...] = ()
    in_turn: bool = False  # its turn was looked at when it came in, as a released mark's is


@dataclass(slots=True)
class Standing:
    """Where one stop stands, by which fact, and which facts came before their turn."""

    stop: dict[str, Any]
    state: str = "open"
    fact: Fact | None = None
    counting: list[Fact] = field(default_factory=list)
    out_of_order: list[Fact] = field(default_factory=list)

    def state_at(self, moment: datetime) -> str:
        """Where it stood at a moment, by the facts that count."""
        states = [one.state for one in self.counting if one.at <= moment + CLOCKS_DIFFER]
        return states[-1] if states else "open"

    @property
    def wants(self) -> list[str]:
        """What would settle it, in words."""
        if self.fact is not None and self.fact.do:
            return list(self.fact.do)
        return [need_words(one) for one in self.stop["needs"]]


def need_words(need: dict[str, Any]) -> str:
    """Say in words what must be recorded."""
    if need["kind"] == "mark":
        return f"A released saw mark for the {need['part']}: two people read the distance."
    if need["kind"] == "handover":
        return "The handover record, signed or with the reason why not."
    return str(need["says"])


def standings(stops: Sequence[dict[str, Any]], facts: Iterable[Fact]) -> list[Standing]:
    """Walk the stops in order and let each fact count where its time has come."""
    waiting: dict[str, list[Fact]] = {}
    for one in sorted(facts, key=lambda fact: (fact.at, fact.key)):
        waiting.setdefault(one.stop, []).append(one)
    walked: list[Standing] = []
    for stop in stops:
        walked.append(_stand(stop, waiting.get(stop["key"], []), walked))
    return walked


def _stand(stop: dict[str, Any], facts: list[Fact], before: list[Standing]) -> Standing:
    own = Standing(stop)
    for fact in facts:
        if fact.in_turn or all(one.state_at(fact.at) in SETTLED for one in before):
            if fact.state != "incomplete":
                own.counting.append(fact)
                own.state, own.fact = fact.state, fact
            elif own.state not in SETTLED:
                own.fact = fact
        else:
            own.out_of_order.append(fact)
    return own


def first_open(walked: Sequence[Standing], until: str = "") -> Standing | None:
    """Return the first stop that is not settled, before the stop named, if any."""
    for one in walked:
        if until and one.stop["key"] == until:
            return None
        if one.state not in SETTLED:
            return one
    return None
