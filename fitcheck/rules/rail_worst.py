"""Where do the rollers stand when the head rail has the most to carry?"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise, product

from fitcheck.rules.rail_beam import Load, Peak, moment_at, reactions, sag_at
from fitcheck.rules.tables_fixings import BRACKET_SAG_STEPS

_NARROWINGS = 60
_GOLDEN = 0.6180339887498949


@dataclass(frozen=True, slots=True)
class Train:
    """A panel on two rollers that slides along the rail: half its weight on each."""

    weight: float
    spacing: float
    travel_from: float
    travel_to: float

    def loads(self, first: float) -> tuple[Load, ...]:
        """Return the two loads when the first roller stands here."""
        half = self.weight / 2
        return Load(half, first), Load(half, first + self.spacing)


@dataclass(frozen=True, slots=True)
class RailWorst:
    """The worst of a rail: its end, its moment and its sag, with where the rollers then stand."""

    reaction: float
    moment: Peak
    sag: Peak
    moment_positions: tuple[float, ...]
    sag_positions: tuple[float, ...]


def rail_worst(
    span: float, stiffness: float, trains: tuple[Train, ...], rail_weight: float = 0.0
) -> RailWorst:
    """Return the worst that sliding panels do to a head rail, each wherever it may stand.

    The panels run on tracks of their own, so that each may stand where it is worst for a section;
    the effects are added up, and the worst section is looked for along the whole rail.

    Source: superposition; AISC Manual, table 3-23, for each load and for the rail's own weight.

    Args:
        span: between the brackets [in or mm].
        stiffness: E I [lbf in2 or N mm2].
        trains: the panels; the first roller runs from `travel_from` to `travel_to` [in or mm].
        rail_weight: weight of the rail, spread evenly [lbf or N].

    Returns:
        Reaction, moment and sag [lbf, lbf in, in, or N, N mm, mm].

    Raises:
        ValueError: no panel, travel that leaves the rail, no span or no stiffness.
    """
    _refuse_travel(span, trains)
    even = rail_weight / span

    def sag(x: float, train: Train, first: float) -> float:
        return sag_at(span, stiffness, train.loads(first), x)

    def own_moment(x: float) -> float:
        return even * x * (span - x) / 2

    def own_sag(x: float) -> float:
        return even * x * (span**3 - 2 * span * x**2 + x**3) / (24 * stiffness)

    worst_moment, moment_positions = _worst_moment(span, trains, own_moment)
    worst_sag, sag_positions = _worst_section(span, trains, sag, own_sag)
    return RailWorst(
        reaction=_worst_reaction(span, trains) + rail_weight / 2,
        moment=worst_moment,
        sag=worst_sag,
        moment_positions=moment_positions,
        sag_positions=sag_positions,
    )


_Effect = Callable[[float, Train, float], float]


def _worst_reaction(span: float, trains: tuple[Train, ...]) -> float:
    ends = [0.0, 0.0]
    for train in trains:
        ends[0] += reactions(span, train.loads(train.travel_from))[0]
        ends[1] += reactions(span, train.loads(train.travel_to))[1]
    return max(ends)


def _worst_moment(
    span: float, trains: tuple[Train, ...], own: Callable[[float], float]
) -> tuple[Peak, tuple[float, ...]]:
    """Find the worst section exactly, piece by piece between the stands at which a roller turns back.

    A section is worst off with each panel at an end of its travel or with a roller upon it. Along one
    piece every such stand gives a parabola, and so does the sum of one stand per panel.
    """
    turns = {
        place for t in trains for at in (t.travel_from, t.travel_to) for place in _rollers(t, at)
    }
    marks = sorted({0.0, span, *turns})
    best = Peak(0.0, span / 2)
    where = tuple(train.travel_from for train in trains)
    for low, high in pairwise(marks):
        for stands in product(*(_stands(train, (low + high) / 2) for train in trains)):

            def at(x: float, stands: tuple[_Stand, ...] = stands) -> float:
                placed = zip(trains, stands, strict=True)
                loads = [load for train, stand in placed for load in train.loads(stand(x))]
                return own(x) + moment_at(span, tuple(loads), x)

            x = _crown(at, low, high)
            if at(x) > best.value:
                best, where = Peak(at(x), x), tuple(stand(x) for stand in stands)
    return best, where


_Stand = Callable[[float], float]


def _rollers(train: Train, first: float) -> tuple[float, float]:
    return first, first + train.spacing


def _stands(train: Train, x: float) -> Iterator[_Stand]:
    """Name the stands of a panel that may be the worst for sections around this one."""
    yield lambda _: train.travel_from
    yield lambda _: train.travel_to
    if train.travel_from < x < train.travel_to:
        yield lambda section: section
    if train.travel_from < x - train.spacing < train.travel_to:
        yield lambda section: section - train.spacing


def _crown(height: Callable[[float], float], low: float, high: float) -> float:
    """Return where a parabola is highest between two ends."""
    half = (high - low) / 2
    left, middle, right = height(low), height(low + half), height(high)
    bend = left - 2 * middle + right
    if bend < 0 and abs(left - right) < -2 * bend:
        return low + half + half * (left - right) / (2 * bend)
    return low if left > right else high


def _worst_section(
    span: float, trains: tuple[Train, ...], effect: _Effect, own: Callable[[float], float]
) -> tuple[Peak, tuple[float, ...]]:
    """Find the worst section: every crest of a grid, each narrowed between its neighbours."""

    def at(x: float) -> float:
        return own(x) + sum(effect(x, train, _worst_place(x, train, effect)) for train in trains)

    steps = BRACKET_SAG_STEPS.value
    step = span / steps
    grid = [at(index * step) for index in range(steps + 1)]
    crests = [i for i in range(1, steps) if grid[i - 1] <= grid[i] >= grid[i + 1]]
    tops = [_top(at, (i - 1) * step, (i + 1) * step) for i in crests] or [span / 2]
    x = max(tops, key=at)
    return Peak(at(x), x), tuple(_worst_place(x, train, effect) for train in trains)


def _worst_place(x: float, train: Train, effect: _Effect) -> float:
    """Find where one panel is worst for a section: the effect is concave along its travel.

    An influence line of a simply supported beam is concave, and so is the sum of two of them.
    """

    def at(first: float) -> float:
        return effect(x, train, first)

    inside = (x, x - train.spacing)
    corners = [place for place in inside if train.travel_from < place < train.travel_to]
    top = _top(at, train.travel_from, train.travel_to)
    return max((train.travel_from, train.travel_to, top, *corners), key=at)


def _top(height: Callable[[float], float], low: float, high: float) -> float:
    """Return where a concave function is highest, by golden section."""
    left = high - _GOLDEN * (high - low)
    right = low + _GOLDEN * (high - low)
    left_height, right_height = height(left), height(right)
    for _ in range(_NARROWINGS):
        if high - low < 1e-7 * (1 + abs(high)):
            break
        if left_height < right_height:
            low, left, left_height = left, right, right_height
            right = low + _GOLDEN * (high - low)
            right_height = height(right)
        else:
            high, right, right_height = right, left, left_height
            left = high - _GOLDEN * (high - low)
            left_height = height(left)
    return (low + high) / 2


def _refuse_travel(span: float, trains: tuple[Train, ...]) -> None:
    if not trains:
        raise ValueError("at least one panel hangs on the rail")
    for train in trains:
        if not (train.weight > 0 and train.spacing > 0):
            raise ValueError("a panel has a weight and two rollers apart")
        if not 0 <= train.travel_from <= train.travel_to <= span - train.spacing:
            raise ValueError("the rollers stay on the rail between its brackets")
