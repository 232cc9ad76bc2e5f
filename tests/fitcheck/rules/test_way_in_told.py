"""Is every place of a site's way in built or asked for, and does each panel name its tightest place?"""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.tables_carrying import ROOM_FOR_HANDS
from fitcheck.rules.way_in import Slab, passages
from fitcheck.rules.way_in_kinds import PASSES, SIZES
from fitcheck.rules.way_in_panels import packed, panels_in
from fitcheck.rules.way_in_told import NOTHING_BEYOND, NOTHING_TOLD, way_told

DOOR = {"door_width": "32 in", "door_height": "80 in"}
CORRIDOR = {"corridor_width": "37 in", "corridor_height": "94 in"}
LIFT = {
    "lift_width": "41 in", "lift_depth": "53 in", "lift_height": "84 in",
    "lift_door_width": "32 in", "lift_door_height": "82 in",
}  # fmt: skip
STAIR = {
    "stair_width": "35 in", "stair_headroom": "80 in", "stair_rise": "7 1/2 in",
    "stair_going": "10 in",
}  # fmt: skip
LANDING = {"landing_depth": "36 in", "landing_width": "72 in", "landing_height": "92 in"}
ALL = {**DOOR, **CORRIDOR, **LIFT, **STAIR, **LANDING}
PANEL = {"name": "fixed", "width": "29 5/8 in", "height": "75 1/2 in", "thickness": "10 mm"}


def kinds(site: dict[str, Any]) -> list[str]:
    return [place.kind for place in way_told(site).places]


def test_nothing_told_is_one_question() -> None:
    way = way_told(dict.fromkeys(SIZES, "") | {"passes": []})

    assert way.places == ()
    assert way.asks == (NOTHING_TOLD,)
    assert panels_in([PANEL], way)[0].state == "unknown"


def test_a_door_alone_says_nothing_of_what_is_beyond_it() -> None:
    way = way_told(DOOR)

    assert [place.kind for place in way.places] == ["doorway"]
    assert way.asks == (NOTHING_BEYOND,)
    assert panels_in([PANEL], way)[0].state == "unknown"


def test_straight_in_asks_nothing_and_passes() -> None:
    (one,) = panels_in([PANEL], way_told({"passes": ["straight_in"]}))

    assert (one.state, one.tightest) == ("fits", None)
    assert one.says.endswith("straight in.")


def test_the_door_of_a_straight_way_is_held_against_when_it_is_told() -> None:
    straight = {"passes": ["straight_in"]}
    small = {"door_width": "20 in", "door_height": "24 in"}

    assert panels_in([PANEL], way_told({**straight, **small}))[0].state == "fails"
    assert panels_in([PANEL], way_told({**straight, **DOOR}))[0].state == "fits"
    assert way_told({**straight, "door_width": "30 in"}).asks == (
        "Measure on the way in: door height.",
    )


@pytest.mark.parametrize(
    ("passes", "found"),
    [
        (["corridor"], ["doorway", "doorway"]),
        (["corner"], ["doorway", "corner"]),
        (["lift"], ["doorway", "lift_car"]),
        (["stairs"], ["doorway", "stairs"]),
        (["quarter_turn"], ["doorway", "stairs", "stair_turn"]),
        (["half_turn", "stairs"], ["doorway", "stairs", "stair_turn"]),
        (["corner", "lift", "half_turn"], ["doorway", "corner", "lift_car", "stairs", "stair_turn"]),
    ],
)  # fmt: skip
def test_each_kind_that_is_said_is_built_from_its_sizes(
    passes: list[str], found: list[str]
) -> None:
    families = {
        "corridor": CORRIDOR, "corner": CORRIDOR, "lift": LIFT, "stairs": STAIR,
        "quarter_turn": {**STAIR, **LANDING}, "half_turn": {**STAIR, **LANDING},
    }  # fmt: skip
    site = {"passes": passes, **DOOR}
    for kind in passes:
        site |= families[kind]
    way = way_told(site)

    assert [place.kind for place in way.places] == found
    assert way.asks == ()
    (one,) = panels_in([PANEL], way)
    assert len(one.found) == len(found)
    assert one.state != "unknown"


@pytest.mark.parametrize(
    ("sizes", "found"),
    [(CORRIDOR, ["corner"]), (LIFT, ["lift_car"]), (STAIR, ["stairs", "stair_turn"])],
)
def test_sizes_without_a_kind_are_taken_as_the_harder_one(
    sizes: dict[str, str], found: list[str]
) -> None:
    assert kinds({**DOOR, **sizes}) == ["doorway", *found]


def test_landing_sizes_beside_straight_stairs_are_a_turn() -> None:
    assert kinds({"passes": ["stairs"], **DOOR, **STAIR, "landing_depth": "36 in"}) == [
        "doorway", "stairs", "stair_turn",
    ]  # fmt: skip


def test_every_size_that_is_missing_is_asked_for_by_name() -> None:
    way = way_told({"passes": ["corner", "lift", "half_turn"]})
    asked = {name for place in way.places for name in place.missing}

    assert asked == set(SIZES) - {"corridor_beyond"}
    assert way.asks == (
        f"Measure on the way in: {', '.join(SIZES[n] for n in SIZES if n in asked)}.",
    )
    assert panels_in([PANEL], way)[0].state == "unknown"


@pytest.mark.parametrize("missing", sorted(set(ALL)))
def test_a_single_missing_size_is_asked_for_and_nothing_passes(missing: str) -> None:
    site = {"passes": ["corner", "lift", "half_turn"], **ALL, missing: ""}
    way = way_told(site)

    assert way.asks == (f"Measure on the way in: {SIZES[missing]}.",)
    assert panels_in([PANEL], way)[0].state == "unknown"
    assert panels_in([PANEL], way_told({**site, **ALL}))[0].state != "unknown"


def test_beyond_a_corner_the_corridor_is_as_wide_as_before_unless_it_is_told() -> None:
    same, other = (
        way_told({"passes": ["corner"], **DOOR, **CORRIDOR, **more}).places[1]
        for more in ({}, {"corridor_beyond": "33 in"})
    )

    assert same.sizes["to"] == "37 in"
    assert other.sizes["to"] == "33 in"


def test_a_half_turn_has_its_landing_across() -> None:
    half, quarter = (
        way_told({"passes": [kind], **DOOR, **STAIR, **LANDING}).places[-1].place()
        for kind in ("half_turn", "quarter_turn")
    )

    assert half.sizes["across"] == pytest.approx(72 * 25.4)
    assert "across" not in quarter.sizes
    assert (half.rise, half.going) == pytest.approx((7.5 * 25.4, 254))


def test_a_panel_is_carried_in_its_packing_all_round() -> None:
    """25 mm on every side: 50 mm more in width, height and thickness."""
    panel = {"width": "900 mm", "height": "2000 mm", "thickness": "10 mm"}

    assert packed(panel) == Slab(950, 2050, 60)
    assert packed({**panel, "height": None}) is None
    place = way_told({"passes": ["straight_in"], "door_width": "1000 mm", "door_height": "2049 mm"})
    (one,) = panels_in([panel], place)
    assert one.tightest is not None
    assert one.tightest.pose == "on its side"


def test_each_panel_names_its_own_tightest_place() -> None:
    site = {"passes": ["corner", "half_turn"], **DOOR, **CORRIDOR, **STAIR, **LANDING}
    panels = [PANEL, {**PANEL, "name": "large", "width": "48 in", "height": "90 in"}]
    way = way_told(site)
    small, large = panels_in(panels, way)

    for panel, one in zip(panels, (small, large), strict=True):
        slab = packed(panel)
        assert slab is not None
        places = tuple(told.place() for told in way.places)
        assert one.found == passages(slab, places, ROOM_FOR_HANDS.value)
        assert one.tightest is not None
        assert one.tightest.margin_nm == min(each.margin_nm for each in one.found)
        assert one.tightest.name in one.says
    assert small.state == "fits"
    assert large.state == "fails"
    assert "does not get in" in large.says
    assert "short by" in large.says
    assert "48 in × 90 in, with 25 mm of packing all round, a house setting" in large.says


def test_a_panel_that_fails_somewhere_fails_although_more_is_to_be_asked() -> None:
    small = {"door_width": "20 in", "door_height": "24 in"}
    (one,) = panels_in([PANEL], way_told({"passes": ["lift"], **small}))

    assert one.state == "fails"


def test_a_panel_whose_way_is_not_told_whole_says_so_beside_the_tightest_place_known() -> None:
    (one,) = panels_in([PANEL], way_told({"passes": ["lift"], **DOOR}))

    assert "the tightest place known is Door, " in one.says
    assert one.says.endswith("; the rest is still to be measured.")


def test_a_panel_without_its_size_is_unknown() -> None:
    (one,) = panels_in([{"name": "door"}], way_told({"passes": ["straight_in"]}))

    assert one.state == "unknown"
    assert one.says == "The size of panel door is not known."


@given(
    st.lists(st.sampled_from(sorted(PASSES)), unique=True),
    st.dictionaries(st.sampled_from(sorted(SIZES)), st.sampled_from(["30 in", "2400 mm"])),
)
def test_whatever_is_told_a_panel_passes_only_a_way_of_which_nothing_is_asked(
    passes: list[str], sizes: dict[str, str]
) -> None:
    way = way_told({"passes": passes, **sizes})
    missing = [name for place in way.places for name in place.missing]
    (one,) = panels_in([PANEL], way)

    assert bool(way.asks) == bool(
        missing or not (passes or set(sizes) - {"door_width", "door_height"})
    )
    if way.asks:
        assert one.state in ("unknown", "fails")
