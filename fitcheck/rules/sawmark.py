"""Where is the saw mark, and may it be released?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.length import computed, inch_text, mm_text
from fitcheck.rules.saw_told import DOWN, mark_step_nm, saw_text
from fitcheck.rules.sawmark_checks import agreement, length_checks, reader_checks
from fitcheck.rules.sawmark_read import SAW, MarkAsked, mark_read
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered
from fitcheck.rules.survey import House, house_read

HELD: tuple[State, ...] = ("fails", "unknown")
CAUTIONS = (
    "Measure twice, saw once: a rail cut short is a new kit.",
    "Eye protection and gloves at the saw; deburr the end before it touches glass, seal or hand.",
)


@dataclass(frozen=True, slots=True)
class SawMark:
    """The length to saw at, or why it is held; nothing is released while a finding holds it."""

    part: str
    length_nm: int | None
    candidate_nm: int | None
    findings: tuple[Finding, ...]
    saw: str | None
    hold: tuple[str, ...]
    mark: int
    metric: bool

    @property
    def released(self) -> bool:
        """Return whether the saw may be used."""
        return self.length_nm is not None

    def as_json(self) -> dict[str, object]:
        """Return the mark as plain JSON."""
        return {
            "part": self.part,
            "decision": "release" if self.released else "hold",
            "mark": self._text(self.length_nm),
            "length": self._length(self.length_nm),
            "worked_out": self._length(self.candidate_nm),
            "saw": self.saw if self.released else None,
            "hold": list(self.hold),
            "rounded": "down: a cut is never rounded long",
        }

    def _text(self, nm: int | None) -> str | None:
        if nm is None:
            return None
        return mm_text(nm) if self.metric else inch_text(nm, self.mark, DOWN)

    def _length(self, nm: int | None) -> dict[str, str] | None:
        return None if nm is None else computed(nm, DOWN, self.mark)


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer where to saw, or what to do first.

    Source: the kit's own sheet for the deduction; JCGM 100 for the agreement of two answers.

    Args:
        inputs: the predicted distance, the readings as fixed, the part [-].

    Returns:
        Decision, mark, how to saw, what to do, and the findings, as plain JSON [-].

    Raises:
        InputErrors: what was sent makes no sense; every mistake is named.
    """
    own = Strict.open(inputs, (*SAW, "house"), "", [])
    house = house_read(own)
    asked = mark_read(own)
    own.finish()
    found = saw_mark(asked, house)
    return answered(found.findings, CAUTIONS, **found.as_json())


def saw_mark(asked: MarkAsked, house: House) -> SawMark:
    """Work out the mark from the as-fixed readings, and release it only when nothing speaks against.

    The survey's prediction and the site's readings must agree within their combined doubt, two
    people must agree within one graduation, and the stock must be long enough. The shortest
    as-fixed reading governs, and the mark rounds down: a part may be hidden short, never long.

    Source: the kit's own sheet for the deduction; common practice for the second person.

    Args:
        asked: part, prediction and readings as fixed [-].
        house: the firm's settings [-].

    Returns:
        The mark, or why it is held [-].
    """
    findings = [*reader_checks(asked, house), agreement(asked, house)]
    candidate = _candidate_nm(asked, house)
    if candidate is not None:
        findings += length_checks(asked, candidate, house)
    held = worst(finding.state for finding in findings) in HELD
    return SawMark(
        part=asked.part,
        length_nm=candidate if not held else None,
        candidate_nm=candidate,
        findings=tuple(findings),
        saw=None if asked.sawn_nm is not None else saw_text(asked, candidate or 0, house),
        hold=tuple(finding.do for finding in findings if finding.state in HELD),
        mark=house.mark,
        metric=asked.metric,
    )


def _candidate_nm(asked: MarkAsked, house: House) -> int | None:
    """Return the mark by the shortest as-fixed reading, rounded down; None without a reading."""
    if not asked.fixed:
        return None
    target = min(reading.value.nm for reading in asked.fixed) - asked.deduct_nm
    step = mark_step_nm(house.mark, metric=asked.metric)
    return target // step * step
