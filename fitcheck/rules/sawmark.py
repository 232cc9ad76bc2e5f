"""Where is the saw mark, and may it be released?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.length import NM_PER_INCH, Direction, computed, inch_text, mm_text
from fitcheck.rules.sawmark_checks import agreement, length_checks, reader_checks
from fitcheck.rules.sawmark_read import SAW, MarkAsked, mark_read
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered
from fitcheck.rules.survey import House, house_read
from fitcheck.rules.tables_saw import METRIC_STEP

DOWN: Direction = "down"
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
    saw: str
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
        saw=saw_text(asked, candidate or 0, house),
        hold=tuple(finding.do for finding in findings if finding.state in HELD),
        mark=house.mark,
        metric=asked.metric,
    )


def mark_step_nm(mark: int, *, metric: bool) -> int:
    """Return the step that a saw mark is rounded to.

    Source: house setting.

    Args:
        mark: parts of an inch [-].
        metric: whether the crew's tape is metric [-].

    Returns:
        The step [nm].
    """
    return METRIC_STEP.value if metric else NM_PER_INCH // mark


def _candidate_nm(asked: MarkAsked, house: House) -> int | None:
    """Return the mark by the shortest as-fixed reading, rounded down; None without a reading."""
    if not asked.fixed:
        return None
    target = min(reading.value.nm for reading in asked.fixed) - asked.deduct_nm
    step = mark_step_nm(house.mark, metric=asked.metric)
    return target // step * step


def saw_text(asked: MarkAsked, mark_nm: int, house: House) -> str:
    """Say from which end to measure, which end to saw off, and on which side the blade runs.

    Source: common practice; a kerf that the sheet does not name is a house setting.

    Args:
        asked: the part [-].
        mark_nm: the mark [nm].
        house: the firm's settings [-].

    Returns:
        The sentence [-].
    """
    length = mm_text(mark_nm) if asked.metric else inch_text(mark_nm, house.mark, DOWN)
    if mark_nm == asked.stock_nm:
        return "Do not saw: the part is already as long as its mark."
    if asked.end == "both":
        step = mark_step_nm(house.mark, metric=asked.metric)
        each = (asked.stock_nm - mark_nm) // (2 * step) * step
        first = mm_text(each) if asked.metric else inch_text(each, house.mark, DOWN)
        return (
            f"Saw {first} off one end first, then measure {length} from that fresh end and mark it; "
            f"{_kerf_text(asked)}"
        )
    off = {"left": "left", "right": "right", "either": "right"}[asked.end]
    keep = "left" if off == "right" else "right"
    return f"Measure {length} from the {keep} end and saw off the {off} end; {_kerf_text(asked)}"


def _kerf_text(asked: MarkAsked) -> str:
    kerf = mm_text(asked.kerf_nm)
    text = f"the blade ({kerf}) runs on the waste side and the line stays on the part."
    if asked.allowance_nm is None:
        return text
    hides = (
        "the end covers would hide"
        if asked.kerf_nm <= asked.allowance_nm
        else ("the end covers cannot hide")
    )
    return f"{text} On the wrong side it comes out {kerf} short, which {hides}."
