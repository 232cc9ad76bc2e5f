"""Does a record hold all that its stop asks for, and does anything in it speak against going on?"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fitcheck.rules.length import length_parse
from fitcheck.rules.survey import Reading
from fitcheck.rules.tables import SAME_HEIGHT
from jobs.installs.models import RecordState
from jobs.installs.order import need_words
from jobs.installs.reread import Known, comparison, swapped_sides

LEAKS = "leaks"


@dataclass(slots=True)
class Judged:
    """What a record does for its stop: the state, what is missing, what was compared, what to do."""

    state: str
    missing: list[str] = field(default_factory=list)
    compared: list[dict[str, Any]] = field(default_factory=list)
    do: list[str] = field(default_factory=list)
    miscut: bool = False
    more: dict[str, Any] = field(default_factory=dict)

    def as_json(self) -> dict[str, Any]:
        """The outcome as it is kept with the record."""
        return {"missing": self.missing, "compared": self.compared, "do": self.do, **self.more}


def stop_judge(
    *,
    stop: Mapping[str, Any],
    body: Mapping[str, Any],
    readings: tuple[Reading, ...],
    known: Known,
    second_lacks: str = "",
) -> Judged:
    """Hold a record of a stop against what the stop asks for and against the survey.

    Args:
        second_lacks: what is wanting of a second person, in words; empty when nothing is.
    """
    missing = [need_words(need) for need in stop["needs"] if not _met(need, body, readings)]
    missing += [second_lacks] if second_lacks else []
    compared = [comparison(one, known) for one in readings]
    against = [
        one["do"]
        for reading, one in zip(readings, compared, strict=True)
        if one["state"] == "apart" or (one["state"] != "agrees" and _is_needed(reading, stop))
    ]
    swapped = swapped_sides(readings, known)
    if swapped:
        against.insert(0, swapped)
    if body.get("result") == LEAKS:
        against.append("It leaks: dry it, cut out the bead at the leak, run it again, test again.")
    if body.get("found") == "not_right":
        against.append(body.get("note") or "Put right what was found, and record the stop again.")
    if against:
        return Judged(RecordState.HELD, missing, compared, list(dict.fromkeys(against)))
    if missing:
        return Judged(RecordState.INCOMPLETE, missing, compared, missing)
    return Judged(RecordState.DONE, [], compared, [])


def _met(need: Mapping[str, Any], body: Mapping[str, Any], readings: tuple[Reading, ...]) -> bool:
    kind = need["kind"]
    if kind == "photo":
        return bool(body.get("photos"))
    if kind == "second_person":
        return True  # said beside, for it is asked who that was and how it is known
    if kind == "yes":
        return need["name"] in body.get("yes", [])
    if kind == "value":
        return any(one["name"] == need["name"] for one in body.get("values", []))
    if kind == "result":
        return body.get("result") in need["choices"]
    return kind == "reading" and any(_answers(one, need) for one in readings)


def _is_needed(reading: Reading, stop: Mapping[str, Any]) -> bool:
    return any(one["kind"] == "reading" and _answers(reading, one) for one in stop["needs"])


def _answers(reading: Reading, need: Mapping[str, Any]) -> bool:
    if (reading.quantity, reading.side) != (need["quantity"], need["side"]):
        return False
    if reading.height is None:
        return False
    return abs(reading.height.nm - length_parse(need["height"]).nm) <= SAME_HEIGHT.value
