"""What shape is the opening, how sure is it, and which reading cannot be right?"""

import math
from dataclasses import dataclass, replace

import numpy as np

from fitcheck.rules import tables, tables_shape
from fitcheck.rules.chi_square import chi_square_limit, chi_square_tail
from fitcheck.rules.finding import Measured
from fitcheck.rules.least_squares import (
    Array,
    Fit,
    fit,
    left_over,
    rivals,
    standardised,
    worst_reading,
)
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.mistakes import (
    Mistake,
    Suspicion,
    error_vector,
    explanation,
    slips_of,
    suspicions,
    swaps_of,
)
from fitcheck.rules.quadrilateral import (
    ADJUSTED,
    BOW,
    UNKNOWNS,
    WIDTH,
    Frame,
    Observation,
    expected,
    frame_of,
    observations,
    width_row,
)
from fitcheck.rules.strays import mistake_log_odds
from fitcheck.rules.survey import Reading

AGREE, CORRECTED, UNDECIDED, UNCHECKED = "agree", "corrected", "undecided", "unchecked"
_MICROMETRE_NM = 1000
_STRAIGHT = Observation(
    "straight walls", "straight", "none", None, None, 0.0, tables_shape.BOW_USUAL.value, 0.0, None
)
_START_WIDTH_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Removed:
    """A reading taken out, because it alone explains what the others contradict."""

    observation: Observation
    off_mm: float
    standardised: float
    mistake: Mistake | None


@dataclass(frozen=True, slots=True)
class Solved:
    """A shape that agrees best with some readings."""

    seen: tuple[Observation, ...]
    frame: Frame
    shape: Array
    design: Array
    fit: Fit
    bowed: bool

    @property
    def read(self) -> tuple[Observation, ...]:
        """Return what was read, without what was assumed."""
        return tuple(each for each in self.seen if each.quantity in ADJUSTED)

    def along(self, row: Array) -> tuple[float, float] | None:
        """Return the value and standard uncertainty of a combination of the unknowns [mm].

        None when no reading determines it.
        """
        if np.linalg.norm(row - self.fit.seen @ row) > 1e-6 * np.linalg.norm(row):
            return None
        return float(row @ self.shape), self.doubt(row)

    def doubt(self, row: Array) -> float:
        """Return the standard uncertainty of a combination; one tool errs one way throughout [mm]."""
        answers = row @ self.fit.gains
        square = float(np.sum((answers * self.fit.sigmas) ** 2))
        shared: dict[object, list[float]] = {}
        for answer, each in zip(answers, self.seen, strict=True):
            shared.setdefault(each.tool, []).append(float(answer) * each.shared)
        square += sum(
            sum(parts) ** 2 - sum(one * one for one in parts) for parts in shared.values()
        )
        return math.sqrt(max(0.0, square))


@dataclass(frozen=True, slots=True)
class Shape:
    """The adjusted opening: its shape, what was taken out, is suspected, or strays by chance."""

    solved: Solved
    state: str
    removed: tuple[Removed, ...] = ()
    suspected: tuple[Suspicion, ...] = ()
    strayed: Observation | None = None

    @property
    def chi_square(self) -> float:
        """Return the weighted sum of squared residuals [-]."""
        return left_over(self.solved.fit)

    @property
    def chance(self) -> float:
        """Return the chance of disagreeing at least this much when nothing is wrong [-]."""
        return chi_square_tail(self.chi_square, self.solved.fit.freedom)

    def width_at(self, height_nm: int) -> Measured | None:
        """Return the adjusted width at a height, None where no reading tells it.

        A bow that no reading shows is still allowed for: it adds to the uncertainty between the
        readings, as does what lies beyond the highest of them.

        Args:
            height_nm: height above the sill [nm].

        Returns:
            The width, down and up to a whole micrometre, with its uncertainty [nm, mm].
        """
        value, row = width_row(height_nm / NM_PER_MM, self.solved.shape, self.solved.frame)
        beyond_nm = max(0, height_nm - round(_highest(self.solved.read) * NM_PER_MM))
        known = self.solved.along(row)
        if known is None or beyond_nm > tables.EXTRAPOLATION.value:
            return None
        grown = tables.EXTRAPOLATION_GROWTH.value * beyond_nm / NM_PER_MM
        return measured(value, math.hypot(known[1], grown), self.solved.read)


def measured(value_mm: float, u_mm: float, seen: tuple[Observation, ...] = ()) -> Measured:
    """Return a computed value as a length between two whole micrometres.

    Args:
        value_mm: the value [mm].
        u_mm: its standard uncertainty [mm].
        seen: the readings behind it [-].

    Returns:
        The value [nm, mm].
    """
    nm = round(value_mm * NM_PER_MM)
    low, high = nm // _MICROMETRE_NM * _MICROMETRE_NM, -(-nm // _MICROMETRE_NM) * _MICROMETRE_NM
    return Measured(low, high, u_mm, tuple(each.id for each in seen))


def shape_adjust(
    readings: tuple[Reading, ...], *, to_ceiling: bool = False, weighed: bool = True
) -> Shape:
    """Adjust an opening from whatever was read of it, and look for the reading that is wrong.

    One reading at a time is taken out, the one with the largest |w|, and only when no other
    explains the disagreement nearly as well; then all is adjusted again. A bow that explains three
    or more widths as well as a mistake would is a bow before it is a mistake. A |w| over the limit
    that a mistake that matters would hardly leave is told and taken for chance, as long as all
    readings together agree and none was taken out yet.

    Source: Baarda 1968 as restated, alpha 0.001; odds and bow limits are house settings.

    Args:
        readings: the readings; those that shape nothing are left aside [-].
        to_ceiling: diagonals without a height end in the corner at the ceiling [-].
        weighed: whether what a mistake would look like is weighed, as from version 5 on [-].

    Returns:
        The adjusted opening [mm].

    Raises:
        ValueError: no reading tells of the shape.

    Valid for: openings with leans and level small against width and height.
    """
    seen = observations(readings, to_ceiling=to_ceiling)
    if not seen:
        raise ValueError("an adjustment needs readings that tell of the shape")
    slips = [*(s for each in readings for s in slips_of(each)), *swaps_of(readings)]
    frame = frame_of(seen)
    out: list[tuple[Observation, float]] = []
    while True:
        solved = modelled(seen, frame)
        worst = worst_reading(solved.fit)
        if worst is None:
            return _agreed(solved, out, slips)
        if weighed and not out and _by_chance(solved, slips):
            return replace(_agreed(solved, out, slips), strayed=seen[worst])
        ids = tuple(each.id for each in solved.seen)
        others = rivals(solved.fit, worst)
        swaps = _swaps_as_good(solved, ids, slips, worst)
        if others or swaps:
            around = [ids[n] for n in (worst, *others)] + [i for s in swaps for i in s.errors_nm]
            return _told(solved, UNDECIDED, out, slips, around)
        out.append((seen[worst], float(standardised(solved.fit)[worst])))
        seen = seen[:worst] + seen[worst + 1 :]


def _agreed(solved: Solved, out: list[tuple[Observation, float]], slips: list[Mistake]) -> Shape:
    doubted = _doubted(solved, out, slips)
    return doubted or _told(solved, _state(solved, len(out)), out, slips, [])


def _doubted(
    solved: Solved, out: list[tuple[Observation, float]], slips: list[Mistake]
) -> Shape | None:
    """Doubt a bow larger than walls usually have that one width alone tells of: it may be misread.

    The same width read once more settles it; until then no reading is blamed.
    """
    if not solved.bowed or abs(solved.shape[BOW]) * NM_PER_MM < tables_shape.BOW_DOUBTFUL.value:
        return None
    widths = [each for each in solved.seen if each.quantity == "width" and each.height is not None]
    midway = [each for each in widths if solved.frame.belly(each.height or 0.0) > 0]
    if len(midway) != 1:
        return None
    straight = solve(solved.seen, solved.frame, bow=False)
    suspected = _among(straight, slips, [midway[0].id])
    return replace(_told(solved, UNDECIDED, out, slips, []), suspected=suspected)


def _by_chance(solved: Solved, slips: list[Mistake]) -> bool:
    """Do all readings together agree, and is no mistake that matters much likelier than chance?"""
    straight = solve(solved.seen, solved.frame, bow=False) if solved.bowed else solved
    ids = tuple(each.id for each in straight.seen)
    odds = mistake_log_odds(straight.fit, ids, slips)
    return odds < math.log(tables_shape.LEAST_ODDS.value) and _state(solved, 0) != UNDECIDED


def _told(
    solved: Solved,
    state: str,
    out: list[tuple[Observation, float]],
    slips: list[Mistake],
    around: list[str],
) -> Shape:
    removed = tuple(_removed(solved, each, size, slips) for each, size in out)
    return Shape(solved, state, removed, _among(solved, slips, around) if around else ())


def _state(solved: Solved, taken_out: int) -> str:
    freedom = solved.fit.freedom
    if chi_square_tail(left_over(solved.fit), freedom) < tables_shape.CONSISTENCY_ALPHA.value:
        return UNDECIDED
    if taken_out:
        return CORRECTED
    return AGREE if freedom else UNCHECKED


def _removed(solved: Solved, each: Observation, size: float, slips: list[Mistake]) -> Removed:
    """Hold a reading that was taken out against the shape that all others agree on."""
    value, row = expected(each, solved.shape, solved.frame)
    off, u = each.value - value, math.hypot(each.sigma, solved.doubt(row))
    return Removed(each, off, size, explanation(slips, each.id, off, u))


def _among(solved: Solved, slips: list[Mistake], around: list[str]) -> tuple[Suspicion, ...]:
    """Weigh only the readings that the disagreement points to; tell each once, at its heaviest."""
    ids = tuple(each.id for each in solved.seen)
    told: dict[tuple[str, ...], Suspicion] = {}
    for one in suspicions(solved.fit, ids, slips):
        if not set(one.readings) <= set(around):
            continue
        before = told.get(one.readings)
        slip = one.mistake if one.mistake and _fits(solved, ids, one) else None
        told[one.readings] = (
            replace(before, share=before.share + one.share, mistake=before.mistake or slip)
            if before
            else replace(one, mistake=slip)
        )
    return tuple(sorted(told.values(), key=lambda one: -one.share))


def _fits(solved: Solved, ids: tuple[str, ...], one: Suspicion) -> bool:
    if one.mistake is None or len(one.readings) > 1:
        return one.mistake is not None
    size = float(standardised(solved.fit)[ids.index(one.readings[0])])
    best = left_over(solved.fit) - size * size
    near = math.pow(tables_shape.MISTAKE_EXPLAINS.value, 2)
    return left_over(solved.fit, error_vector(ids, one.mistake)) - best <= near


def _swaps_as_good(
    solved: Solved, ids: tuple[str, ...], slips: list[Mistake], worst: int
) -> list[Mistake]:
    """Return each left-for-right that explains nearly as much as the one reading does."""
    pairs = [s for s in slips if len(s.errors_nm) == 2 and set(s.errors_nm) <= set(ids)]
    size = float(standardised(solved.fit)[worst])
    most = left_over(solved.fit) - size * size + _tell_apart()
    return [s for s in pairs if left_over(solved.fit, error_vector(ids, s)) < most]


def _tell_apart() -> float:
    return 2 * math.log(tables_shape.TELL_APART_ODDS.value)


def modelled(seen: tuple[Observation, ...], frame: Frame) -> Solved:
    """Adjust with walls that bow as little as walls do, or freely where the widths show a bow.

    Without a bow shown, one of the usual size about none is assumed; so no width is told more
    surely than walls allow, and a perfect survey of straight walls is left as it is.

    Source: likelihood ratio: a bow lowers the sum of squares by more than chi-square allows, by
    nearly as much as the likeliest mistake would, and is no larger than the firm thinks plausible.

    Args:
        seen: the observations [mm].
        frame: the height over which leans and bow are counted [mm].

    Returns:
        The shape [mm].

    Raises:
        ValueError: there is no observation.
    """
    straight = solve(seen, frame, bow=False)
    if len(_width_heights(seen)) < 3:
        return straight
    bowed = solve(seen, frame, bow=True)
    if bowed.fit.rank < straight.fit.rank:
        return straight
    gain = left_over(straight.fit) - left_over(bowed.fit)
    plausible = abs(bowed.shape[BOW]) * NM_PER_MM <= tables_shape.BOW_PLAUSIBLE.value
    worst = worst_reading(straight.fit)
    mistake = 0.0 if worst is None else standardised(straight.fit)[worst] ** 2
    shown = gain > chi_square_limit(tables_shape.BOW_ALPHA.value, 1)
    return bowed if shown and plausible and gain > mistake - _tell_apart() else straight


def solve(seen: tuple[Observation, ...], frame: Frame, *, bow: bool) -> Solved:
    """Adjust the unknowns by repeated linear steps until nothing moves any more.

    Source: Gauss-Newton steps over adjustment by observation equations.

    Args:
        seen: the observations [mm].
        frame: the height over which leans and bow are counted [mm].
        bow: whether the walls may bow freely, not only as little as walls do [-].

    Returns:
        The shape; an unknown that nothing determines stays where it started [mm].

    Raises:
        ValueError: there is no observation.
    """
    shape = _start(seen, frame)
    seen = seen if bow else (*seen, _STRAIGHT)
    values = np.array([each.value for each in seen])
    sigmas = np.array([each.sigma for each in seen])
    for _ in range(tables_shape.MOST_STEPS.value):
        rows = [expected(each, shape, frame) for each in seen]
        design = np.array([row for _, row in rows])
        short = values - np.array([value for value, _ in rows])
        step = fit(design, short, sigmas, assumed=0 if bow else 1)
        shape = shape + step.solution
        if np.max(np.abs(step.solution)) < tables_shape.CONVERGED.value:
            break
    return Solved(seen, frame, shape, design, step, bow)


def _start(seen: tuple[Observation, ...], frame: Frame) -> Array:
    widths = sorted(each.value for each in seen if each.quantity == "width")
    shape = np.zeros(len(UNKNOWNS))
    shape[WIDTH] = widths[len(widths) // 2] if widths else _START_WIDTH_MM
    shape[-2:] = frame.top
    return shape


def _width_heights(seen: tuple[Observation, ...]) -> set[float]:
    return {each.height for each in seen if each.quantity == "width" and each.height is not None}


def _highest(seen: tuple[Observation, ...]) -> float:
    """Return up to where the walls are known: the highest width, lean or diagonal."""
    reach = [each.over if each.quantity == "lean" else each.height for each in seen]
    return max((height for height in reach if height), default=0.0)
