"""What is the least that would have to change for this kit, or another size, to fit?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.adjustment import shape_adjust
from fitcheck.rules.asked_case import Case, case_read, inputs_opened, read_findings, wall_findings
from fitcheck.rules.compare import spoken
from fitcheck.rules.finding import Finding, Measured, Need, State, uncertainty_text, worst
from fitcheck.rules.impossible import doubts_of, impossible_readings
from fitcheck.rules.in_doubt import by_shape
from fitcheck.rules.length import NM_PER_MM, computed, mm_text
from fitcheck.rules.mistakes import Mistake
from fitcheck.rules.packing import Packing, Spot, least_packing
from fitcheck.rules.quadrilateral import ADJUSTED
from fitcheck.rules.readings import Readings, need_text
from fitcheck.rules.remedies import (
    CHOOSE,
    Known,
    Remedy,
    remedy_before,
    remedy_of,
    sure_to_mm,
)
from fitcheck.rules.shape_state import UNDOUBTED, ShapeTold
from fitcheck.rules.shape_told import shape_told
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.survey import House, Reading, Survey
from fitcheck.rules.uncertainty import guard_band_nm

NO_GUARD = 0
TOO_NEAR = "Too near its limit for any tool to tell. To be sure: "


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to do, by how much, and which rule it answers."""

    rule: str
    place: str
    kind: str
    amount_nm: int | None
    do: str
    readings: tuple[str, ...]
    state: State

    def as_json(self, mark: int) -> dict[str, object]:
        """Return the change as plain JSON; an amount is rounded up."""
        amount = None if self.amount_nm is None else computed(self.amount_nm, "up", mark)
        return {
            "rule": self.rule,
            "place": self.place,
            "kind": self.kind,
            "amount": amount,
            "do": self.do,
            "readings": list(self.readings),
            "state": self.state,
        }


@dataclass(frozen=True, slots=True)
class OtherSize:
    """Another size of the same kit: its state, its least margin, and what limits it."""

    code: str
    state: State
    margin_nm: int | None
    limit: Finding | None

    def as_json(self, mark: int) -> dict[str, object]:
        """Return the size as plain JSON; its margin is rounded down."""
        margin = None if self.margin_nm is None else computed(self.margin_nm, "down", mark)
        limit = None
        if self.limit:
            limit = {"rule": self.limit.rule, "place": self.limit.place, "do": self.limit.do}
        return {"size": self.code, "state": self.state, "least_margin": margin, "limited_by": limit}


@dataclass(frozen=True, slots=True)
class LeastChange:
    """What limits, what to change, how the walls would be packed, and the other sizes."""

    limiting: Finding | None
    changes: tuple[Change, ...]
    packing: Packing | None
    sizes: tuple[OtherSize, ...]
    mark: int

    def as_json(self) -> dict[str, object]:
        """Return everything as plain JSON."""
        limiting = None
        if self.limiting:
            limiting = {
                "rule": self.limiting.rule,
                "place": self.limiting.place,
                "readings": list(self.limiting.readings),
                "do": self.limiting.do,
            }
        return {
            "limiting": limiting,
            "changes": [each.as_json(self.mark) for each in self.changes],
            "packing": _packing_json(self.packing, self.mark),
            "other_sizes": [each.as_json(self.mark) for each in self.sizes],
        }


def _packing_json(packing: Packing | None, mark: int) -> dict[str, object] | None:
    if packing is None:
        return None
    return {
        "at_sill": computed(packing.at_sill_nm, "up", mark),
        "at_top": computed(packing.at_top_nm, "up", mark),
        "top": mm_text(packing.top_nm),
        "do": f"Make the opening narrower by {spoken(packing.at_sill_nm, mark, up=True)} at the "
        f"sill and {spoken(packing.at_top_nm, mark, up=True)} at {mm_text(packing.top_nm)}, both "
        "walls together, straight between; then read every width again.",
    }


def changes(
    findings: Iterable[Finding], house: House, survey: Survey | None = None
) -> tuple[Change, ...]:
    """Say for each finding that does not fit what would make it fit, the failures first.

    An amount brings the reading to its limit and past its guard band, so that it fits for sure.

    Source: derived from each finding's margin; the guard factor is a house setting.

    Args:
        findings: the findings of a verdict [-].
        house: the firm's settings [-].
        survey: the readings, whose signs and tools say which end and how sure, if at hand [-].

    Returns:
        The changes; none when everything fits [-].
    """
    kept = list(findings)
    ordered = [f for s in ("fails", "unknown", "tight") for f in kept if f.state == s]
    read = {each.id: each for each in survey.readings} if survey else {}
    return tuple(_change(finding, house, read) for finding in ordered)


def _change(finding: Finding, house: House, read: Known) -> Change:
    if finding.state == "unknown":
        what = ", ".join(need_text(need) for need in finding.needs)
        do = f"Read {what}." if what and not finding.readings else finding.do
        return _said(finding, "read", None, do)
    if finding.margin is None or finding.margin.u_mm == 0:
        return _said(finding, "choose", None, finding.do)
    if finding.state == "tight":
        return _sharper(finding, finding.margin, house, read)
    remedy = remedy_of(finding, read) if house.rules >= 5 else remedy_before(finding)
    if remedy == CHOOSE:
        return _said(finding, remedy.kind, None, finding.do)
    return _worked(finding, finding.margin, remedy, house)


def _worked(
    finding: Finding, margin: Measured, remedy: Remedy, house: House, why: str = ""
) -> Change:
    """Say how much of a work brings the reading past its limit and its guard band."""
    short_nm = guard_band_nm(margin.u_mm, float(house.guard_factor)) + 1 - margin.low_nm
    words = remedy.words.format(amount=spoken(short_nm, house.mark, up=True))
    words = f"{why}{words[0].lower()}{words[1:]}" if why else words
    do = f"{words} ({finding.place}).{remedy.caution}"
    return _said(finding, remedy.kind, short_nm, do)


def _said(finding: Finding, kind: str, amount_nm: int | None, do: str) -> Change:
    return Change(finding.rule, finding.place, kind, amount_nm, do, finding.readings, finding.state)


def _sharper(finding: Finding, margin: Measured, house: House, read: Known) -> Change:
    """Say how sure a reading would have to be for its margin to be enough; if no tool is, what work does.

    Before version 5 the impossible was asked for.
    """
    factor = float(house.guard_factor)
    enough = margin.low_nm / NM_PER_MM / factor if factor else 0.0
    least = 0.005
    if house.rules >= 5:
        least = max(least, sure_to_mm(finding, margin, read) + 0.005)
    if enough < least and house.rules >= 5:
        return _settled(finding, margin, remedy_of(finding, read), house)
    if enough < least:
        return _said(finding, "read_sharper", None, finding.do)
    do = (
        f"Read it again so that it is sure to {uncertainty_text(enough - 0.005)} standard "
        f"uncertainty or better; now it is {uncertainty_text(margin.u_mm)} ({finding.place})."
    )
    return _said(finding, "read_sharper", None, do)


def _settled(finding: Finding, margin: Measured, remedy: Remedy, house: House) -> Change:
    """Say what to do where no tool reads surely enough to tell that it fits."""
    if remedy == CHOOSE:
        do = f"{TOO_NEAR}choose another size or kit ({finding.place})."
        return _said(finding, remedy.kind, None, do)
    return _worked(finding, margin, remedy, house, TOO_NEAR)


def doubted(survey: Survey, rules: int = int(RULES_VERSION)) -> tuple[Change, ...]:
    """Say which readings to take again before any wall is touched: the others contradict them.

    Source: the adjustment of the opening.

    Args:
        survey: the readings [-].
        rules: the version of the rules [-].

    Returns:
        One change per reading taken out or suspected; none when the readings agree [-].
    """
    doubts = doubts_of(impossible_readings(survey.readings)) if rules >= 5 else {}
    if doubts:
        return tuple(_cannot_be(one, doubts[one.id]) for one in survey.readings if one.id in doubts)
    if not any(each.quantity in ADJUSTED for each in survey.readings):
        return ()
    shape = shape_adjust(survey.readings, rules=rules)
    ids = [(one.observation.id, one.mistake) for one in shape.removed]
    ids += [(i, one.mistake) for one in shape.suspected for i in one.readings]
    slips: dict[str, Mistake | None] = {}
    for one, mistake in ids:
        slips[one] = slips.get(one) or mistake
    return tuple(_doubt(each, slips[each.id]) for each in survey.readings if each.id in slips)


def _cannot_be(reading: Reading, do: str) -> Change:
    height = reading.height.entered if reading.height else None
    what = need_text(Need(reading.quantity, reading.side, height))
    return Change("shape.possible", what, "read_again", None, do, (reading.id,), "unknown")


def _doubt(reading: Reading, slip: Mistake | None) -> Change:
    height = reading.height.entered if reading.height else None
    what = need_text(Need(reading.quantity, reading.side, height))
    guess = f" Perhaps {slip.words}; then it is {slip.meant}." if slip else ""
    do = f"Read {what} again before anything else: the other readings contradict it.{guess}"
    return Change("shape.mistake", what, "read_again", None, do, (reading.id,), "unknown")


def packing_for(case: Case, *, sure: bool = True) -> Packing | None:
    """Return the least packing that brings the widths into the size's windows and difference.

    Source: derived; the guard band of each width is kept clear when it is to be sure.

    Args:
        case: survey, sheet, size and settings [-].
        sure: keep each width's guard band clear, so that the findings fit and are not tight [-].

    Returns:
        The packing, zero at both ends when none is needed; nothing when a width is missing, too
        small, or no size is known [nm].
    """
    sheet, size = case.sheet, case.size
    if size is None:
        return None
    readings, factor = Readings(case.survey, case.house), float(case.house.guard_factor)
    spots, guards = [], []
    for window in size.windows:
        width = readings.at("width", window.height)
        if not isinstance(width, Measured):
            return None
        guard = guard_band_nm(width.u_mm, factor) + 1 if sure else NO_GUARD
        guards.append(guard)
        limits = window.least.nm + guard, window.most.nm - guard
        spots.append(Spot(window.height.nm, width.low_nm, width.high_nm, *limits))
    top = max(spot.height_nm for spot in spots) or 1
    most = sheet.width_difference.most.nm if sheet.width_difference else None
    # two doubts in quadrature are never more than their sum
    clear = None if most is None else most - sum(sorted(guards)[-2:])
    return least_packing(spots, top, clear, case.house.mark)


def other_sizes(case: Case) -> tuple[OtherSize, ...]:
    """Return how every other size of the sheet would do, the best first.

    None fits where readings contradict each other; before version 5 that was not looked at.

    Args:
        case: survey, sheet, size and settings [-].

    Returns:
        The sizes with state and least margin [-].
    """
    own = case.size.code if case.size else None
    shape = UNDOUBTED
    if case.house.rules >= 5:
        shape = shape_told(case.survey, case.sheet.heights(case.size), case.house)
    sizes = [_size(replace(case, size=one), shape) for one in case.sheet.sizes if one.code != own]
    return tuple(sorted(sizes, key=_preferred))


_BEST_FIRST: tuple[State, ...] = ("fits", "tight", "unknown", "fails")


def _preferred(size: OtherSize) -> tuple[int, int]:
    return _BEST_FIRST.index(size.state), -(size.margin_nm or 0)


def _size(case: Case, shape: ShapeTold) -> OtherSize:
    if case.size is None:
        raise ValueError("a size is being looked at")
    walls, fixings = wall_findings(case)
    findings = by_shape([*read_findings(case), *walls], shape)
    limit = limiting(findings)
    if shape.finding and (limit is None or limit.state != "fails"):
        limit = shape.finding
    margin = limit.margin.low_nm if limit and limit.margin else None
    return OtherSize(case.size.code, worst([*(f.state for f in findings), *fixings]), margin, limit)


def limiting(findings: Sequence[Finding]) -> Finding | None:
    """Return the finding whose reading limits: the one with the least margin.

    Args:
        findings: any findings [-].

    Returns:
        The finding, None when nothing was measured [-].
    """
    measured = [(f.margin.low_nm, n) for n, f in enumerate(findings) if f.margin and f.margin.u_mm]
    return findings[min(measured)[1]] if measured else None


def least_change(case: Case, findings: Sequence[Finding]) -> LeastChange:
    """Say what would make it fit: the limiting reading, each change, the packing, other sizes.

    Args:
        case: survey, sheet, size and settings [-].
        findings: the findings of the verdict on that case [-].

    Returns:
        The least change; a packing only when a width or its difference does not fit [-].
    """
    asked = {"width.window", "width.difference"}
    wants_packing = any(f.rule in asked and f.state in ("fails", "tight") for f in findings)
    return LeastChange(
        limiting(findings),
        (*doubted(case.survey, case.house.rules), *changes(findings, case.house, case.survey)),
        packing_for(case) if wants_packing else None,
        other_sizes(case),
        case.house.mark,
    )


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer what would make a kit fit an opening; nothing is stored.

    Args:
        inputs: opening, readings, zones, sheet, size and house, as for a verdict [-].

    Returns:
        The least change as plain JSON [-].

    Raises:
        InputErrors: the inputs are malformed.
    """
    own = inputs_opened(inputs)
    case = case_read(own)
    if case is None:
        raise InputErrors(own.errors)
    walls, _ = wall_findings(case)
    shape = shape_told(case.survey, case.sheet.heights(case.size), case.house)
    return least_change(case, by_shape([*read_findings(case), *walls], shape)).as_json()
