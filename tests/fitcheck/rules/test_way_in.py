"""Panels through doors, round corners, up stairs and into lift cars, with the margin named."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules.way_in import Passage, Place, Slab, passages, tightest
from fitcheck.rules.way_in_shapes import (
    longest_in,
    longest_round_corner,
    rectangle_fits,
    shortest_plan,
)
from fitcheck.rules.way_in_steps import Tilt, lifted_over_steps, tilts

PANEL = Slab(800, 1900, 40)
MM = 10**6
HANDS = 50 * MM


def place(kind: str, rise: float = 0.0, going: float = 1.0, **sizes: float) -> Place:
    return Place(kind, f"the {kind}", sizes, rise, going)


def one(slab: Slab, where: Place, needs_nm: int = HANDS) -> Passage:
    return passages(slab, (where,), needs_nm)[0]


def mm(passage: Passage) -> float:
    return passage.margin_nm / MM


def test_an_upright_panel_through_a_high_door_has_the_head_room_as_its_margin() -> None:
    found = one(PANEL, place("doorway", width=760, height=2030))

    assert found.pose == "upright"
    assert found.state == "fits"
    assert mm(found) == 130.0


def test_a_panel_that_is_too_tall_goes_on_its_side() -> None:
    found = one(Slab(800, 2100, 40), place("doorway", width=760, height=2030))

    assert found.pose == "on its side"
    assert mm(found) == 720.0


def test_the_first_pose_with_room_for_hands_is_taken_before_one_with_more_room() -> None:
    roomy = one(PANEL, place("doorway", width=760, height=1950))
    scant = one(PANEL, place("doorway", width=760, height=1949.9))

    assert (roomy.pose, mm(roomy)) == ("upright", 50.0)
    assert (scant.pose, mm(scant)) == ("on its side", 720.0)


def test_a_panel_that_is_too_tall_both_ways_leans_across_the_doorway() -> None:
    """2100 upright under 2030: it leans in the doorway's diagonal of 2168, as Carver allows."""
    found = one(Slab(2050, 2100, 40), place("doorway", width=760, height=2030))

    assert found.pose is not None
    assert "leaning sideways" in found.pose
    assert rectangle_fits(2050, 40, 2030 - mm(found), 760 - mm(found))
    assert not rectangle_fits(2050, 40, 2030 - mm(found) - 0.11, 760 - mm(found) - 0.11)


def test_a_panel_longer_than_the_diagonal_of_a_door_fails_by_how_much() -> None:
    found = one(Slab(2500, 2500, 40), place("doorway", width=760, height=2030))

    assert found.state == "fails"
    assert found.pose is None
    assert found.margin_nm < 0
    grown = -mm(found)
    assert rectangle_fits(2500, 40, 2030 + grown, 760 + grown)
    assert not rectangle_fits(2500, 40, 2030 + grown - 0.11, 760 + grown - 0.11)


@pytest.mark.parametrize(
    ("width", "state"), [(90, "fits"), (89.9, "tight"), (40, "tight"), (39.9, "fails")]
)
def test_hands_need_their_room(width: float, state: str) -> None:
    found = one(PANEL, place("doorway", width=width, height=3000))

    assert found.state == state


def test_with_no_room_asked_a_bare_fit_fits() -> None:
    assert one(PANEL, place("doorway", width=40, height=3000), 0).state == "fits"


def test_round_a_corner_upright_the_margin_is_that_of_the_ladder() -> None:
    found = one(PANEL, place("corner", **{"from": 900, "to": 900, "height": 3000}))
    left = 900 - mm(found)

    assert found.pose == "upright"
    assert longest_round_corner(left, left, 40) >= 800
    assert longest_round_corner(left - 0.11, left - 0.11, 40) < 800


def test_a_low_corner_makes_the_panel_tilt_or_fail() -> None:
    tall = Slab(300, 2400, 30)
    tilted = one(tall, place("corner", **{"from": 900, "to": 900, "height": 2300}))
    low = one(tall, place("corner", **{"from": 900, "to": 900, "height": 900}))

    assert tilted.pose is not None
    assert tilted.pose.startswith("tilted")
    assert tilted.state == "fits"
    assert low.state == "tight"
    assert low.pose == "on its side"
    assert one(tall, place("corner", **{"from": 700, "to": 700, "height": 900})).state == "fails"


def test_up_the_stairs_the_lower_side_lies_along_the_slope() -> None:
    """Rise 3, going 4: headroom 2000 leaves 1600 between the slopes."""
    found = one(PANEL, place("stairs", 3, 4, width=900, headroom=2000))

    assert found.pose == "on its side, along the slope"
    assert mm(found) == 860.0
    assert (
        one(Slab(1700, 1700, 40), place("stairs", 3, 4, width=900, headroom=2000)).state == "fails"
    )


def test_a_wide_low_panel_goes_up_upright() -> None:
    found = one(Slab(1900, 800, 40), place("stairs", 3, 4, width=900, headroom=1500))

    assert found.pose == "upright, along the slope"
    assert mm(found) == 500.0


def test_stairs_narrower_than_the_packing_fail() -> None:
    assert one(PANEL, place("stairs", 3, 4, width=39, headroom=2000)).state == "fails"


def test_a_quarter_turn_is_a_corner_and_a_half_turn_needs_the_landing_across() -> None:
    quarter = one(PANEL, place("stair_turn", flight=900, landing=900, height=2400))
    corner = one(PANEL, place("corner", **{"from": 900, "to": 900, "height": 2400}))
    half = one(PANEL, place("stair_turn", flight=900, landing=900, height=2400, across=850))

    assert quarter.margin_nm == corner.margin_nm
    assert mm(half) == 50.0
    assert half.state == "fits"


TURN = {"flight": 1400, "landing": 1000, "height": 2400, "across": 2000}


@pytest.mark.parametrize(
    ("level", "lift"),
    [(900, 0), (1000, 0), (1001, 200), (1250, 200), (1251, 400), (1500, 400), (1749, 600)],
)
def test_each_step_begun_under_a_level_edge_lifts_it_by_a_rise(level: float, lift: float) -> None:
    assert lifted_over_steps(Tilt(0.0, level, 600), 1000, 200, 250) == lift


def test_a_panel_longer_than_the_landing_is_lifted_over_the_steps_going_up() -> None:
    """1499 level on 1000 of landing hangs over two steps of 250: 2 x 200 of 2400 are lost."""
    level = {"flight": 3000, "landing": 1000, "height": 2400, "across": 3000}
    slab = Slab(1499, 1999, 40)
    flat = one(slab, place("stair_turn", **level), 0)
    steps = one(slab, place("stair_turn", 200, 250, **level), 0)

    assert flat.pose == "upright"
    assert mm(flat) == 401.0
    assert (steps.state, steps.pose) == ("fits", "upright")
    assert mm(steps) == 1.0
    taller = one(Slab(1499, 2001, 40), place("stair_turn", 200, 250, **level), 0)
    assert taller.pose != "upright"


def test_a_panel_that_stays_on_the_landing_loses_nothing() -> None:
    for slab in (Slab(900, 2300, 40), Slab(2300, 900, 40)):
        flat, steps = (
            one(slab, place("stair_turn", rise, 250, **TURN), 0) for rise in (0.0, 200.0)
        )
        assert steps == flat


def test_on_a_quarter_landing_the_shorter_side_is_where_the_steps_begin() -> None:
    sizes = {"flight": 1000, "landing": 1400, "height": 2000}
    slab = Slab(1200, 1900, 40)

    assert one(slab, place("stair_turn", **sizes), 0).pose == "upright"
    assert one(slab, place("stair_turn", 200, 250, **sizes), 0).pose != "upright"


def test_a_tilted_panel_rises_with_the_steps_and_is_lifted_by_less() -> None:
    """Steeper than half a rise for a going it clears the steps; a little less, and some lift is left."""
    flat = lifted_over_steps(Tilt(0.0, 1500, 600), 1000, 200, 250)
    tilted = next(one for one in tilts(1500, 10) if one.slope > 0.5)
    hung = lifted_over_steps(tilted, 1000, 200, 250)

    assert flat == 400
    assert hung == 0
    small = next(one for one in tilts(1500, 10) if one.slope > 0.1)
    assert 0 < lifted_over_steps(small, 1000, 200, 250) < flat


STEP_SIZES = st.floats(100, 400)


@settings(deadline=None)
@given(
    st.floats(200, 2400), st.floats(200, 2400), st.integers(0, 43), st.floats(0, 2500),
    STEP_SIZES, STEP_SIZES,
)  # fmt: skip
def test_no_tread_stands_higher_than_the_lower_edge_that_was_lifted(
    side: float, upright: float, degrees: int, floor: float, rise: float, going: float
) -> None:
    tilt = tilts(side, upright)[degrees]
    lift = lifted_over_steps(tilt, floor, rise, going)
    spots = [floor + 0.01 + (tilt.plan - floor - 0.02) * n / 400 for n in range(401)]
    stuck = [
        (math.floor((x - floor) / going) + 1) * rise
        - ((x - tilt.behind) * tilt.slope if x >= tilt.behind else (tilt.behind - x) / tilt.slope)
        for x in spots
        if tilt.plan - floor > 0.03
    ]

    assert lift >= max(stuck, default=0.0) - 1e-6


def test_a_turn_whose_steps_nobody_told_is_unknown_where_the_panel_hangs_over_them() -> None:
    untold = Place("stair_turn", "the turn", dict(TURN), steps_told=False)
    found = one(Slab(1500, 2300, 40), untold)

    assert (found.state, found.pose) == ("unknown", None)
    assert found.do == (
        "Measure rise and going of the steps at the turn: the panel hangs over them as it turns."
    )
    assert one(Slab(900, 2300, 40), untold).state == "fits"
    small = Place("stair_turn", "the turn", {**TURN, "height": 500.0}, steps_told=False)
    assert one(Slab(1500, 2300, 40), small).state == "fails"
    assert tightest((found,)) is None


CAR = {"width": 1100, "depth": 1400, "height": 2200, "door_width": 800, "door_height": 2000}


@pytest.mark.parametrize(
    ("slab", "pose"),
    [
        (Slab(800, 1900, 40), "upright"),
        (Slab(2100, 900, 40), "on its side"),
        (Slab(1500, 1700, 40), "upright"),
        (Slab(400, 2350, 10), "tilted in its own plane"),
        (Slab(2800, 400, 40), None),
    ],
)
def test_a_lift_car_and_its_door(slab: Slab, pose: str | None) -> None:
    assert one(slab, place("lift_car", **CAR)).pose == pose


def test_a_panel_must_also_go_through_the_door_of_the_car() -> None:
    low_door = {**CAR, "door_height": 300, "door_width": 300}
    found = one(PANEL, place("lift_car", **low_door))

    assert found.state == "fails"
    assert -500 < mm(found) < -200


def test_a_panel_too_wide_for_the_floor_leans_over() -> None:
    """1390 level along the depth of 1400; 2300 leans in the 1100 by 2200 plane."""
    slab = Slab(1390, 2300, 20)
    found = one(slab, place("lift_car", **{**CAR, "door_height": 2195}))

    assert found.pose in {"leaning over", "tilted in its own plane"}
    assert found.margin_nm >= 0


def test_nothing_longer_than_the_space_diagonal_ever_stands_in_a_car() -> None:
    diagonal = math.sqrt(1100**2 + 1400**2 + 2200**2)
    tall = {**CAR, "door_height": 5000, "door_width": 5000}

    assert one(Slab(100, diagonal + 1, 10), place("lift_car", **tall)).state == "fails"
    assert longest_in(1400, 1100, 10) < diagonal


def test_the_tightest_place_is_named() -> None:
    found = passages(
        PANEL,
        (
            place("doorway", width=760, height=2030),
            place("corner", **{"from": 420, "to": 400, "height": 2400}),
            place("stairs", 3, 4, width=900, headroom=2000),
        ),
        HANDS,
    )
    narrow = tightest(found)

    assert narrow is not None
    assert narrow.kind == "corner"
    assert narrow.margin_nm == min(each.margin_nm for each in found)
    assert tightest(()) is None


def test_a_passage_says_what_to_do() -> None:
    good = one(PANEL, place("doorway", width=760, height=2030)).as_json()
    tight = one(PANEL, place("doorway", width=60, height=2030)).as_json()
    bad: dict[str, Any] = one(PANEL, place("doorway", width=30, height=2030)).as_json()

    assert good["do"] == "At the doorway: carry it upright."
    assert good["source"]["status"] == "from memory"  # type: ignore[index]
    assert "cardboard template" in str(tight["do"])
    assert bad["pose"] is None
    assert bad["margin"] == {
        "mm": "-10 mm",
        "inch": "-7/16 in",
        "inch_mark": "1/16 in",
        "rounded": "down",
    }
    assert "7/16 in larger" in bad["do"]


SIZES = st.floats(100, 3000)


@given(SIZES, SIZES, st.floats(100, 4000))
def test_the_shortest_plan_is_never_beaten_by_any_tilt(
    side: float, upright: float, ceiling: float
) -> None:
    found = shortest_plan(side, upright, ceiling)
    tilts = [math.radians(90 * step / 900) for step in range(901)]
    plans = [
        side * math.cos(t) + upright * math.sin(t)
        for t in tilts
        if side * math.sin(t) + upright * math.cos(t) <= ceiling
    ]

    if plans:
        assert found is not None
        assert found <= min(plans) + 1e-6
    elif found is not None:
        assert ceiling - min(side, upright) < 0.01 * (side + upright)


@pytest.mark.parametrize(
    ("side", "upright", "ceiling", "plan"),
    [(800, 1900, 1900, 800), (800, 1900, 800, 1900), (1900, 800, 800, 1900), (500, 500, 800, 500)],
)
def test_the_shortest_plan_standing_or_lying(
    side: float, upright: float, ceiling: float, plan: float
) -> None:
    assert shortest_plan(side, upright, ceiling) == plan


def test_the_shortest_plan_tilted_by_hand() -> None:
    """300 x 2400 under 2300: asin(2300 / 2418.68) - atan(300 / 2400) is 64.85 degrees."""
    found = shortest_plan(2400, 300, 2300)

    assert found == pytest.approx(1291.46, abs=0.01)


@pytest.mark.parametrize("ceiling", [799.9, 0, -100])
def test_under_a_ceiling_lower_than_both_sides_there_is_no_pose(ceiling: float) -> None:
    assert shortest_plan(800, 1900, ceiling) is None


PLACES = {
    "doorway": {"width": 700, "height": 1950},
    "corner": {"from": 900, "to": 950, "height": 2300},
    "stairs": {"width": 850, "headroom": 2000},
    "stair_turn": {"flight": 900, "landing": 950, "height": 2300, "across": 1900},
    "lift_car": CAR,
}
NEVER_EASY = 10**11


@pytest.mark.parametrize(("kind", "rise"), [*((kind, 0.0) for kind in PLACES), ("stair_turn", 190)])
@settings(deadline=None, max_examples=25)
@given(
    side=st.floats(200, 1200),
    upright=st.floats(1000, 2400),
    thick=st.floats(10, 100),
    more=st.floats(0, 300),
)
def test_a_place_larger_all_round_has_so_much_more_margin_and_is_never_worse(
    kind: str, rise: float, side: float, upright: float, thick: float, more: float
) -> None:
    slab = Slab(side, upright, thick)
    larger = {name: size + more for name, size in PLACES[kind].items()}
    small, large = (
        one(slab, Place(kind, "a", dict(sizes), rise, 250), NEVER_EASY)
        for sizes in (PLACES[kind], larger)
    )

    assert abs(large.margin_nm - small.margin_nm - more * MM) <= 100_001

    before, after = (
        one(slab, Place(kind, "a", dict(sizes), rise, 250)) for sizes in (PLACES[kind], larger)
    )
    ranks = ["fails", "tight", "fits"]
    assert ranks.index(after.state) >= ranks.index(before.state)
