"""From an opening out of square and named gaps to panels: corners are rounded inward."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules.length import length_parse
from fitcheck.rules.pane_geometry import Point, apart_nm, inside_nm
from fitcheck.rules.pane_outline import (
    EDGES,
    Gaps,
    Hole,
    Notch,
    Pane,
    Quad,
    hole_in,
    mass_doubt_ug,
    notch_in,
    outlines,
    tapers_nm,
)
from fitcheck.rules.quantity import UG_PER_KG, kg_text

MM = 10**6


def at(x: float, y: float) -> Point:
    return Point(round(x * MM), round(y * MM))


def quad(*corners: tuple[float, float]) -> Quad:
    a, b, c, d = (at(*corner) for corner in corners)
    return Quad(a, b, c, d)


SQUARE = quad((0, 0), (1500, 0), (1500, 2000), (0, 2000))
TAPERED = quad((0, 0), (1497, 0), (1505, 1900), (0, 1900))
NO_GAPS = Gaps(0, 0, 0, 0, 0)


def test_a_square_opening_less_its_gaps() -> None:
    gaps = Gaps(3 * MM, 5 * MM, 7 * MM, 10 * MM, 0)

    (found,) = outlines(SQUARE, gaps, (), None, square=False)

    assert found == quad((3, 10), (1495, 10), (1495, 1993), (3, 1993))


def test_a_tapered_opening_without_gaps_is_the_panel_with_its_diagonals() -> None:
    """1497 below, 1505 above, left plumb 1900: right 1900.0168, diagonals 2423.845, 2418.886."""
    (found,) = outlines(TAPERED, NO_GAPS, (), None, square=False)

    assert found == TAPERED
    assert apart_nm(*found.edge("right")) / MM == pytest.approx(1900.0168, abs=1e-4)
    assert apart_nm(found.left_foot, found.right_head) / MM == pytest.approx(2423.845, abs=1e-3)
    assert apart_nm(found.right_foot, found.left_head) / MM == pytest.approx(2418.886, abs=1e-3)
    assert tapers_nm(found) == {"foot": 0, "right": 8 * MM, "head": 0, "left": 0}


def test_tapers_have_their_signs() -> None:
    found = tapers_nm(quad((0, 0), (1500, 4), (1495, 2003), (6, 2001)))

    assert found == {"foot": 4 * MM, "right": -5 * MM, "head": 2 * MM, "left": 6 * MM}


def test_joints_between_panels_are_plumb_and_share_the_gap() -> None:
    gaps = Gaps(0, 0, 0, 0, 6 * MM)

    left, middle, right = outlines(SQUARE, gaps, (500 * MM, 900 * MM), None, square=False)

    assert (left.left_foot, left.right_foot) == (at(0, 0), at(497, 0))
    assert (middle.left_foot, middle.right_head) == (at(503, 0), at(897, 2000))
    assert (right.left_head, right.right_head) == (at(903, 2000), at(1500, 2000))


def test_an_odd_joint_is_rounded_up() -> None:
    left, right = outlines(SQUARE, Gaps(0, 0, 0, 0, 3), (500 * MM,), None, square=False)

    assert right.left_foot.x - left.right_foot.x == 4


def test_a_level_head_does_not_follow_the_opening() -> None:
    leaning = quad((0, 0), (1500, 0), (1500, 2010), (0, 2000))

    (found,) = outlines(leaning, NO_GAPS, (), 1900 * MM, square=False)

    assert found.left_head.y == found.right_head.y == 1900 * MM


def test_a_square_panel_leaves_the_wedge_to_the_channel() -> None:
    (found,) = outlines(TAPERED, NO_GAPS, (), None, square=True)

    assert found == quad((0, 0), (1497, 0), (1497, 1900), (0, 1900))
    twisted = quad((4, 3), (1500, 0), (1495, 2000), (0, 2005))
    (inner,) = outlines(twisted, NO_GAPS, (), None, square=True)
    assert inner == quad((4, 3), (1495, 3), (1495, 2000), (4, 2000))


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (0, 0), (1500, 2000), (0, 2000)),
        ((1500, 0), (0, 0), (0, 2000), (1500, 2000)),
        ((0, 2000), (1500, 2000), (1500, 0), (0, 0)),
        ((0, 0), (1500, 0), (100, 100), (0, 2000)),
        ((0, 0), (1500, 0), (0, 2000), (1500, 2000)),
    ],
)
def test_corners_in_the_wrong_places_are_refused(corners: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="corners cross"):
        outlines(quad(*corners), NO_GAPS, (), None, square=False)


@pytest.mark.parametrize(
    ("gaps", "dividers", "top"),
    [
        (Gaps(800 * MM, 800 * MM, 0, 0, 0), (), None),
        (NO_GAPS, (1600 * MM,), None),
        (NO_GAPS, (), 0),
        (Gaps(0, 0, 1000 * MM, 1000 * MM, 0), (), None),
    ],
)
def test_gaps_that_leave_nothing_are_refused(
    gaps: Gaps, dividers: tuple[int, ...], top: int | None
) -> None:
    with pytest.raises(ValueError, match="nothing is left"):
        outlines(SQUARE, gaps, dividers, top, square=False)


def test_a_hole_is_placed_square_to_two_edges() -> None:
    assert hole_in(SQUARE, "left", 76 * MM, "foot", 1000 * MM) == at(76, 1000)
    assert hole_in(SQUARE, "right", 76 * MM, "head", 900 * MM) == at(1424, 1100)
    centre = hole_in(TAPERED, "right", 50 * MM, "foot", 950 * MM)
    assert inside_nm(*TAPERED.edge("right"), centre) >= 50 * MM
    assert inside_nm(*TAPERED.edge("right"), centre) - 50 * MM <= 1
    assert centre.y == 950 * MM


def test_a_notch_follows_its_edge() -> None:
    assert notch_in(SQUARE, "foot", 100 * MM, 60 * MM, 40 * MM) == (
        at(100, 0),
        at(160, 0),
        at(160, 40),
        at(100, 40),
    )
    assert notch_in(SQUARE, "left", 100 * MM, 60 * MM, 40 * MM)[0] == at(0, 1900)
    assert notch_in(SQUARE, "head", 100 * MM, 60 * MM, 40 * MM)[0] == at(1400, 2000)


def pane(outline: Quad = SQUARE, **changes: tuple[Hole, ...] | tuple[Notch, ...] | int) -> Pane:
    members: dict[str, object] = {"holes": (), "notches": (), "hardware_ug": 0, **changes}
    return Pane("door", outline, 10 * MM, **members)  # type: ignore[arg-type]


def test_a_plain_pane_weighs_25_kg_a_square_metre() -> None:
    assert pane().net_area() == 3 * 10**18
    assert pane().glass_ug() == 75 * UG_PER_KG
    assert pane(hardware_ug=UG_PER_KG).mass_ug() == 76 * UG_PER_KG
    assert pane().narrow_nm() == 1500 * MM
    assert pane().longest_nm() == 2000 * MM


def test_three_eighths_is_weighed_as_ten_millimetres() -> None:
    thin = Pane("door", SQUARE, length_parse("3/8 in").nm)

    assert thin.glass_ug() == 75 * UG_PER_KG


def test_a_notch_of_100_by_50_and_a_hole_are_taken_off_and_the_middle_moves_away() -> None:
    notch = Notch("hinge", notch_in(SQUARE, "right", 0, 100 * MM, 50 * MM), 0, 0, 0, "right")
    hole = Hole("handle", at(1400, 1000), 100 * MM)

    taken = pane(holes=(hole,), notches=(notch,))

    left = 3e6 - 5000 - 3.14159265 * 2500
    assert taken.net_area() / 1e12 == pytest.approx(left, abs=0.01)
    x = (3e6 * 750 - 5000 * 1475 - 3.14159265 * 2500 * 1400) / left
    y = (3e6 * 1000 - 5000 * 50 - 3.14159265 * 2500 * 1000) / left
    assert taken.centre().x / MM == pytest.approx(x, abs=1e-3)
    assert taken.centre().y / MM == pytest.approx(y, abs=1e-3)
    assert pane().centre() == at(750, 1000)


def test_mass_of_28_by_76_in_is_sure_to_0_595_kg() -> None:
    """Worked out with an uncertainty calculator: sides 0.5 mm, 10 +- 0.3 mm rectangular."""
    door = quad((0, 0), (711.2, 0), (711.2, 1930.4), (0, 1930.4))

    found = mass_doubt_ug(pane(door), 0.5 * MM, 0.3 * MM / 3**0.5)

    assert kg_text(pane(door).glass_ug()) == "34.4 kg"
    assert pane(door).glass_ug() / UG_PER_KG == pytest.approx(34.32, abs=0.005)
    assert found / UG_PER_KG == pytest.approx(0.595, abs=0.001)


offs = st.integers(-20_000_000, 20_000_000)
gap = st.integers(0, 15_000_000)


@settings(max_examples=60)
@given(st.lists(offs, min_size=8, max_size=8), st.lists(gap, min_size=4, max_size=4))
def test_every_corner_keeps_its_gaps_in_any_opening(off: list[int], gaps: list[int]) -> None:
    corners = [Point(p.x + off[2 * i], p.y + off[2 * i + 1]) for i, p in enumerate(SQUARE.corners)]
    opening = Quad(*corners)
    named = dict(zip(("left", "right", "head", "foot"), gaps, strict=True))

    (found,) = outlines(opening, Gaps(*gaps, 0), (), None, square=False)

    for name in EDGES:
        for corner in found.edge(name):
            away = inside_nm(*opening.edge(name), corner)
            assert named[name] - 1 <= away <= named[name] + 3


@settings(max_examples=30)
@given(st.integers(0, 10_000_000), st.integers(0, 10_000_000))
def test_wider_gaps_never_make_a_larger_or_heavier_panel(a: int, b: int) -> None:
    small, large = sorted((a, b))
    found = [
        pane(outlines(TAPERED, Gaps(g, g, g, g, 0), (), None, square=False)[0])
        for g in (small, large)
    ]

    assert found[1].net_area() <= found[0].net_area()
    assert found[1].glass_ug() <= found[0].glass_ug()
