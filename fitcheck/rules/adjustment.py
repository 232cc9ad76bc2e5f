"""What shape is the opening, how sure is it, and which reading cannot be right?"""

import math
from dataclasses import dataclass, replace

import numpy as np

from fitcheck.rules import RULES_VERSION, tables, tables_shape
from fitcheck.rules.chi_square import chi_square_tail
from fitcheck.rules.finding import Measured
from fitcheck.rules.least_squares import (
    left_over,
    rivals,
    standardised,
    worst_reading,
)
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.mistakes import Mistake
from fitcheck.rules.quadrilateral import (
    BOW,
    Frame,
    Observation,
    expected,
    frame_of,
    observations,
    width_row,
)
from fitcheck.rules.solved import Solved
from fitcheck.rules.solving import modelled, solve
from fitcheck.rules.strays import mistake_log_odds
from fitcheck.rules.survey import Reading
from fitcheck.rules.suspects import (
    Suspects,
    among,
    as_good,
    pairs_as_good,
    station_alone,
    suspects_of,
    tell_apart,
)
from fitcheck.rules.suspicion import Suspicion, explanation

_NEWEST = int(RULES_VERSION)
AGREE, CORRECTED, UNDECIDED, UNCHECKED = "agree", "corrected", "undecided", "unchecked"
_MICROMETRE_NM = 1000


@dataclass(frozen=True, slots=True)
class Removed:
    """A reading taken out, because it alone explains what the others contradict."""

    observation: Observation
    off_mm: float
    standardised: float
    mistake: Mistake | None


@dataclass(frozen=True, slots=True)
class Shape:
    """The adjusted opening: its shape, what was taken out, is suspected, or strays by chance."""

    solved: Solved
    state: str
    removed: tuple[Removed, ...] = ()
    suspected: tuple[Suspicion, ...] = ()
    strayed: Observation | None = None
    rules: int = _NEWEST

    @property
    def freedom(self) -> int:
        """Return how many readings are more than was needed; none where no reading checks another."""
        return _freedom(self.solved, self.rules)

    @property
    def chi_square(self) -> float:
        """Return the weighted sum of squared residuals [-]."""
        return left_over(self.solved.fit)

    @property
    def chance(self) -> float:
        """Return the chance of disagreeing at least this much when nothing is wrong [-]."""
        return chi_square_tail(self.chi_square, self.freedom)

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
    readings: tuple[Reading, ...], *, to_ceiling: bool = False, rules: int = _NEWEST
) -> Shape:
    """Adjust an opening from whatever was read of it, and look for the reading that is wrong.

    One reading at a time is taken out, the one with the largest |w|, and only when nothing else
    explains the disagreement nearly as well: no other reading, no swap of sides, no mistake that
    readings of one place share; then all is adjusted again. Readings of one place that agree go
    together, and only where another reading of it stands with the rest. Two others are taken out only
    where no other two explain as much, more never; else none is, and all that may be wrong are
    suspected. A bow that explains three or more widths as well as a mistake would is a bow
    before it is a mistake. A |w| over the limit that a mistake that matters would hardly leave is told
    and taken for chance, as long as all readings together agree and none was taken out yet.

    Source: Baarda 1968 as restated, alpha 0.001; odds and bow limits are house settings.

    Args:
        readings: the readings; those that shape nothing are left aside [-].
        to_ceiling: diagonals without a height end in the corner at the ceiling [-].
        rules: the version of the rules; before 5 neither chance, places nor pairs were weighed [-].

    Returns:
        The adjusted opening [mm].

    Raises:
        ValueError: no reading tells of the shape.

    Valid for: openings with leans and level small against width and height.
    """
    seen = observations(readings, to_ceiling=to_ceiling)
    if not seen:
        raise ValueError("an adjustment needs readings that tell of the shape")
    suspects, frame = suspects_of(readings, rules), frame_of(seen)
    shape = _snooped(seen, frame, suspects)
    if rules < 5 or shape.state == AGREE or not shape.removed:
        return shape
    return _clearly(shape, seen, frame, suspects)


def _snooped(seen: tuple[Observation, ...], frame: Frame, suspects: Suspects) -> Shape:
    """Take out what is wrong one after the other, for as long as each stands alone."""
    out: list[tuple[Observation, float]] = []
    while True:
        solved = modelled(seen, frame)
        worst = worst_reading(solved.fit)
        if worst is None:
            return _agreed(solved, out, suspects)
        if suspects.rules >= 5 and not out and _by_chance(solved, suspects):
            return replace(_agreed(solved, out, suspects), strayed=seen[worst])
        sizes = [float(size) for size in standardised(solved.fit)]
        wrong = station_alone(solved.fit, solved.ids, suspects) or (seen[worst].id,)
        if len(wrong) == 1:
            others = [solved.ids[n] for n in rivals(solved.fit, worst)]
            least = sizes[worst] ** 2 - tell_apart()
            others += as_good(solved.fit, solved.ids, suspects, least, wrong[0])
            if others:
                return _told(solved, UNDECIDED, out, suspects, [*wrong, *others])
        out += [(each, size) for each, size in zip(seen, sizes, strict=False) if each.id in wrong]
        seen = tuple(each for each in seen if each.id not in wrong)


def _clearly(
    shape: Shape, seen: tuple[Observation, ...], frame: Frame, suspects: Suspects
) -> Shape:
    """Let readings be blamed only where that is clearly told; else suspect what may be wrong."""
    blamed = tuple(one.observation.id for one in shape.removed)
    around = [*blamed, *(one for each in shape.suspected for one in each.readings)]
    if shape.state == CORRECTED:
        if len(blamed) == 1 or any(set(blamed) == set(one) for one in suspects.stations):
            return shape
        if len(blamed) == 2:
            whole = solve(seen, frame, bow=shape.solved.bowed)
            others = pairs_as_good(whole.fit, whole.ids, blamed, suspects)
            if not others:
                return shape
            around += others
    return _told(modelled(seen, frame), UNDECIDED, [], suspects, around)


def _agreed(solved: Solved, out: list[tuple[Observation, float]], suspects: Suspects) -> Shape:
    doubted = _doubted(solved, out, suspects)
    state = _state(solved, len(out), suspects.rules)
    return doubted or _told(solved, state, out, suspects, [])


def _doubted(
    solved: Solved, out: list[tuple[Observation, float]], suspects: Suspects
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
    suspected = among(straight.fit, straight.ids, suspects, [midway[0].id])
    return replace(_told(solved, UNDECIDED, out, suspects, []), suspected=suspected)


def _by_chance(solved: Solved, suspects: Suspects) -> bool:
    """Do all readings together agree, and is no mistake that matters much likelier than chance?"""
    straight = solve(solved.seen, solved.frame, bow=False) if solved.bowed else solved
    odds = mistake_log_odds(straight.fit, straight.ids, suspects.slips, suspects.stations)
    likely = odds >= math.log(tables_shape.LEAST_ODDS.value)
    return not likely and _state(solved, 0, suspects.rules) != UNDECIDED


def _told(
    solved: Solved,
    state: str,
    out: list[tuple[Observation, float]],
    suspects: Suspects,
    around: list[str],
) -> Shape:
    removed = tuple(_removed(solved, each, size, suspects.slips) for each, size in out)
    suspected = among(solved.fit, solved.ids, suspects, around) if around else ()
    return Shape(solved, state, removed, suspected, rules=suspects.rules)


def _state(solved: Solved, taken_out: int, rules: int) -> str:
    freedom = _freedom(solved, rules)
    if chi_square_tail(left_over(solved.fit), freedom) < tables_shape.CONSISTENCY_ALPHA.value:
        return UNDECIDED
    if rules >= 5 and not solved.settled:
        return UNDECIDED
    if taken_out:
        return CORRECTED
    return AGREE if freedom else UNCHECKED


def _freedom(solved: Solved, rules: int) -> int:
    """Return how many readings are more than was needed, none where rows are no more than unknowns.

    The rank of an adjustment is that of rows over their sigmas, in which a reading that is very
    unsure seems to tell nothing; from version 5 on it is not taken for a check because of that.
    """
    if rules < 5 or not solved.fit.freedom:
        return solved.fit.freedom
    strength = np.linalg.svd(solved.design, compute_uv=False)
    rank = int((strength > tables_shape.RANK_TOLERANCE.value * strength[0]).sum())
    return solved.fit.freedom if len(solved.design) > rank else 0


def _removed(solved: Solved, each: Observation, size: float, slips: list[Mistake]) -> Removed:
    """Hold a reading that was taken out against the shape that all others agree on."""
    value, row = expected(each, solved.shape, solved.frame)
    off, u = each.value - value, math.hypot(each.sigma, solved.doubt(row))
    return Removed(each, off, size, explanation(slips, each.id, off, u))


def _highest(seen: tuple[Observation, ...]) -> float:
    """Return up to where the walls are known: the highest width, lean or diagonal."""
    reach = [each.over if each.quantity == "lean" else each.height for each in seen]
    return max((height for height in reach if height), default=0.0)
