"""Where rollers stand at the worst: held against plain searches over every position."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitcheck.rules.rail_beam import Load, greatest_moment, greatest_sag, reactions, sag_at
from fitcheck.rules.rail_worst import RailWorst, Train, rail_worst

EI = 1.0e6


def brute(span: float, trains: tuple[Train, ...], steps: int = 40) -> tuple[float, float, float]:
    """The worst end, moment and sag over a grid of positions of one or two panels."""
    places = [
        [t.travel_from + (t.travel_to - t.travel_from) * i / steps for i in range(steps + 1)]
        for t in trains
    ]
    seconds = places[1] if len(trains) > 1 else [0.0]
    worst = (0.0, 0.0, 0.0)
    for a in places[0]:
        for b in seconds:
            loads = trains[0].loads(a) + (trains[1].loads(b) if len(trains) > 1 else ())
            found = (
                max(reactions(span, loads)),
                greatest_moment(span, loads).value,
                greatest_sag(span, EI, loads).value,
            )
            worst = tuple(map(max, worst, found))
    return worst


@pytest.mark.parametrize(
    "placed",
    [
        ((40, 12),),
        ((40, 51),),
        ((40, 30),),
        ((10, 3), (90, 8), (20, 57)),
        ((30, 20), (30, 40)),
        ((0.1, 10), (0.2, 20), (0.3, 50)),
        ((25, 0), (5, 60), (7, 44)),
    ],
)
def test_the_rail_sags_most_where_a_plain_search_finds_it_and_its_mirror_image_there(
    placed: tuple[tuple[float, float], ...],
) -> None:
    loads = tuple(Load(force, at) for force, at in placed)
    mirrored = tuple(Load(force, 60 - at) for force, at in placed)

    peak, other = greatest_sag(60, EI, loads), greatest_sag(60, EI, mirrored)

    searched = max((sag_at(60, EI, loads, n / 100), n / 100) for n in range(6_001))
    assert peak.value == pytest.approx(searched[0], rel=1e-7)
    assert peak.value >= searched[0]
    assert peak.at == pytest.approx(searched[1], abs=0.006)
    assert (other.value, other.at) == pytest.approx((peak.value, 60 - peak.at))


def test_a_rail_without_a_load_or_without_weight_on_it_does_not_sag() -> None:
    assert greatest_sag(60, EI, ()).value == 0
    assert greatest_sag(60, EI, (Load(0, 20), Load(0, 30))).value == 0
    assert greatest_sag(60, EI, (Load(9, 0), Load(9, 60))).value == 0


def test_two_equal_rollers_close_together_by_the_rule_for_moving_loads() -> None:
    """From memory: M = P/(2 L) (L - s/2)^2 for two loads P at a distance s below 0.586 L."""
    span, spacing, each = 60.0, 20.0, 40.0

    found = rail_worst(span, EI, (Train(80, spacing, 0, span - spacing),))

    assert found.moment.value == pytest.approx(each / (2 * span) * (span - spacing / 2) ** 2)
    assert min(abs(found.moment.at - 25), abs(found.moment.at - 35)) < 0.01


def test_the_worst_end_is_with_the_panel_against_it() -> None:
    found = rail_worst(60, EI, (Train(80, 20, 2, 36),))

    assert found.reaction == pytest.approx(max((80 * 48 / 60), (80 * 46 / 60)))


def test_the_worst_sag_of_one_free_panel_is_in_the_middle() -> None:
    found = rail_worst(60, EI, (Train(80, 20, 0, 40),))

    assert found.sag.at == pytest.approx(30, abs=1e-3)
    assert found.sag_positions[0] == pytest.approx(20, abs=1e-3)
    assert found.sag.value == pytest.approx(40 * 20 * (3 * 60**2 - 4 * 20**2) / (24 * EI))


def test_the_rails_own_weight_is_added() -> None:
    bare = rail_worst(60, EI, (Train(80, 20, 0, 40),))
    own = rail_worst(60, EI, (Train(80, 20, 0, 40),), rail_weight=12.0)

    assert own.reaction - bare.reaction == pytest.approx(6)
    assert own.sag.value - bare.sag.value == pytest.approx(5 * 12 * 60**3 / (384 * EI))
    assert own.moment.value > bare.moment.value
    assert own.moment.value - bare.moment.value <= 12 * 60 / 8


@settings(max_examples=25, deadline=None)
@given(st.floats(40, 80), st.floats(10, 30), st.floats(0, 8), st.floats(0, 10), st.floats(20, 100))
@example(span=72.5, spacing=24.0, start=2.5, run=10.0, weight=30.0)
def test_no_position_of_a_plain_search_is_worse(
    span: float, spacing: float, start: float, run: float, weight: float
) -> None:
    end = min(start + run, span - spacing)
    trains = (Train(weight, spacing, start, end), Train(60, 18, 1, span - 20))

    found = rail_worst(span, EI, trains)

    reaction, moment, sag = brute(span, trains, steps=12)
    assert found.reaction >= reaction - 1e-6
    assert found.moment.value >= moment * (1 - 1e-6)
    assert found.sag.value >= sag * (1 - 1e-6)


def test_it_is_no_worse_than_the_plain_search_finds() -> None:
    trains = (Train(80, 22, 2, 30), Train(70, 20, 10, 38))

    found = rail_worst(60, EI, trains)

    reaction, moment, sag = brute(60, trains, steps=60)
    assert found.reaction == pytest.approx(reaction)
    assert found.moment.value == pytest.approx(moment, rel=2e-3)
    assert found.sag.value == pytest.approx(sag, rel=1e-4)


@settings(max_examples=20, deadline=None)
@given(st.floats(1.0, 3.0))
def test_a_heavier_panel_is_never_better(factor: float) -> None:
    light: RailWorst = rail_worst(60, EI, (Train(80, 20, 0, 30),))
    heavy = rail_worst(60, EI, (Train(80 * factor, 20, 0, 30),))

    assert heavy.sag.value >= light.sag.value * (1 - 1e-9)
    assert heavy.reaction >= light.reaction
    assert heavy.moment.value >= light.moment.value * (1 - 1e-9)


@pytest.mark.parametrize(
    "train",
    [
        Train(0, 20, 0, 40),
        Train(80, 0, 0, 40),
        Train(80, 20, -1, 40),
        Train(80, 20, 0, 41),
        Train(80, 20, 30, 20),
    ],
)
def test_rollers_off_the_rail_are_refused(train: Train) -> None:
    with pytest.raises(ValueError, match="roller"):
        rail_worst(60, EI, (train,))


def test_a_rail_without_a_panel_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one panel"):
        rail_worst(60, EI, ())
