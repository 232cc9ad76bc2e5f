"""What is said of one place once its wall was asked: load, capacity, share used, by whose word?"""

from dataclasses import dataclass, replace

from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.fixing_seat import FixingLoad
from fitcheck.rules.force import share_text
from fitcheck.rules.framing import STRUCTURE_QUESTIONS
from fitcheck.rules.holes import DRILL, FixingAnswer
from fitcheck.rules.sources import Source
from fitcheck.rules.verdict import Fixing

_OLD_QUESTIONS = frozenset(STRUCTURE_QUESTIONS.values())
_HIT: dict[str, State] = {"missed": "fails", "unknown": "unknown"}


@dataclass(frozen=True, slots=True)
class FixingHeld:
    """One place: its load, its row of the schedule, findings, and in what a report is still wanted."""

    load: FixingLoad
    answer: FixingAnswer
    findings: tuple[Finding, ...] = ()
    used: float | None = None
    by: Source | None = None
    wanted: str = ""

    def as_json(self) -> dict[str, object]:
        """Return load, capacity, share and source as plain JSON."""
        return {
            **self.load.as_json(),
            "used": None if self.used is None else share_text(self.used),
            "by": self.by.as_json() if self.by else None,
        }


def settled(
    answer: FixingAnswer, found: tuple[Finding, ...], reaches: str, question: str, fixing: Fixing
) -> FixingAnswer:
    """Return a row of the schedule with what its wall said, in the place of the question that stood there.

    Args:
        answer: the row as the hole alone tells it [-].
        found: what the wall said [-].
        reaches: what the fixing must reach, "steel" or "masonry" [-].
        question: what is to be found out before the hole is known at all; empty when nothing is [-].
        fixing: the row with hole, anchor and screw [-].

    Returns:
        The row and its findings; nobody drills while something that the wall said does not pass [-].
    """
    left = tuple(one for one in answer.fixing.questions if one not in _OLD_QUESTIONS)
    asked = (question, *left) if question else left
    hole = _hole(answer.findings[0], asked, reaches)
    states = (hole.state, *(one.state for one in found))
    waits = (one.do for one in found if one.state in ("fails", "unknown"))
    row = replace(
        fixing,
        questions=asked if question else tuple(dict.fromkeys((*asked, *waits))),
        state=worst([*states, _HIT.get(fixing.backing_hit, "fits")]),
    )
    return FixingAnswer(row, (hole, *answer.findings[1:]))


def settled_in_wood(answer: FixingAnswer, found: tuple[Finding, ...]) -> FixingAnswer:
    """Return a row of the schedule with what the wood said; what the row said before still holds.

    Args:
        answer: the row as the hole alone tells it [-].
        found: what the wood said [-].

    Returns:
        The row and its findings [-].
    """
    if all(one.state == "fits" for one in found):
        return answer
    told = settled(answer, found, "wood", "", answer.fixing)
    state = worst([answer.fixing.state, told.fixing.state])
    return replace(told, fixing=replace(told.fixing, state=state))


def _hole(hole: Finding, asked: tuple[str, ...], reaches: str) -> Finding:
    """Return the finding on the hole; what was refused stays refused."""
    if hole.state == "fails":
        return hole
    state: State = "unknown" if asked else "fits"
    return replace(
        hole,
        question=hole.question.replace("reaches wood", f"reaches {reaches}"),
        limit_text=f"a known build-up that reaches {reaches}",
        state=state,
        do=" ".join(asked) or DRILL,
    )
