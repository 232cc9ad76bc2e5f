"""Do notches and holes leave one pane? Worked by hand on a square-cut pane of 900 by 2000 by 10 mm."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.check import check
from fitcheck.drawings.made import made_order
from fitcheck.drawings.order import NOT_ONE, order_of
from fitcheck.rules import glass_demand
from fitcheck.rules.pane_geometry import Point, between_nm, twice_area
from fitcheck.rules.strict import InputErrors
from tests.fitcheck.rules.test_made_glass import asked as opening_asked
from tests.fitcheck.rules.test_panel_order import HINGE
from tests.fitcheck.rules.test_panel_order import asked as order_asked

Json = dict[str, Any]
HOLE = {"name": "hole", "from": "left", "across": "450 mm", "up_from": "foot", "up": "1000 mm"}


def notch(name: str, edge: str, start: str, length: str, depth: str, radius: str = "15 mm") -> Json:
    place = {"edge": edge, "start": start, "length": length}
    return {"name": name, **place, "depth": depth, "radius": radius}


def told(*notches: Json, holes: tuple[Json, ...] = (), **more: Any) -> Json:
    pane = {"edition": "c1048", "thickness": "10 mm", "width": "900 mm", "height": "2 m"}
    taken = {"notches": list(notches), "holes": list(holes)}
    return glass_demand.answer({**pane, **taken, **more})


def of_rule(answer: Json, rule: str) -> dict[str, Json]:
    return {one["place"]: one for one in answer["findings"] if one["rule"] == rule}


def without_numbers(answer: Json) -> bool:
    pane = answer["pane"]
    return [pane[one] for one in ("net_area", "glass_mass", "mass", "centre")] == [None] * 4


def test_three_notches_in_one_place_have_no_mass_and_no_hinge_load() -> None:
    rows = [notch(name, "right", "0 mm", "2000 mm", "450 mm") for name in "abc"]

    answer = told(*rows, hinges={"centres": "1 m", "offset": "0 mm"})

    assert answer["state"] == "fails"
    assert without_numbers(answer)
    assert answer["hinges"] is None
    assert answer["pane"]["area"] == "1.800 m2"


@pytest.mark.parametrize(
    ("rows", "place", "state", "reading"),
    [
        # From the right edge to the left one: in two.
        ([("n", "right", "500 mm", "100 mm", "900 mm")], "n and left", "fails", "none"),
        ([("n", "right", "500 mm", "100 mm", "899 mm")], "n and left", "unknown", "1.0 mm"),
        # In a corner and through: an end is cut off.
        ([("n", "right", "0 mm", "100 mm", "900 mm")], "n and left", "fails", "none"),
        # The whole of an edge: a smaller pane, not a notch.
        ([("n", "head", "0 mm", "900 mm", "50 mm")], "n and head", "fails", "none"),
        # Beside each other, apart by 2 mm; touching; over each other from two edges.
        (
            [("n", "right", "500 mm", "50 mm", "35 mm"), ("m", "right", "552 mm", "50 mm", "35 mm")],
            "n and m",
            "unknown",
            "1/16 in (2.0 mm)",
        ),
        (
            [("n", "right", "500 mm", "50 mm", "35 mm"), ("m", "right", "550 mm", "50 mm", "35 mm")],
            "n and m",
            "fails",
            "none",
        ),
        (
            [("n", "right", "500 mm", "99 mm", "600 mm"), ("m", "left", "1420 mm", "99 mm", "400 mm")],
            "n and m",
            "fails",
            "none",
        ),
        # 60 mm is 6 thicknesses: no longer narrow.
        ([("n", "right", "59.9 mm", "50 mm", "35 mm")], "n and foot", "unknown", "2 5/16 in (59.9 mm)"),
    ],
)  # fmt: skip
def test_too_little_glass_beside_a_notch(
    rows: list[tuple[str, ...]], place: str, state: str, reading: str
) -> None:
    answer = told(*(notch(*row) for row in rows))

    found = of_rule(answer, "notch.web")[f"panel, {place}"]
    assert (found["state"], found["reading"]) == (state, reading)
    assert found["limit"] == "2 3/8 in (60.0 mm)"
    assert ("temperer" in found["do"]) == (state == "unknown")
    assert answer["state"] == state
    assert without_numbers(answer) == (state == "fails")


@pytest.mark.parametrize("start", ["0 mm", "60 mm", "1890 mm", "1950 mm"])
def test_a_notch_in_a_corner_or_well_off_it_is_one_of_the_usual(start: str) -> None:
    answer = told(notch("n", "right", start, "50 mm", "35 mm"))

    assert answer["state"] == "fits"
    assert answer["pane"]["net_area"] == "1.799 m2"  # 1.8 less 0.00175, rounded up
    assert of_rule(answer, "notch.web") == {}


@pytest.mark.parametrize(
    ("start", "length", "depth", "radius", "state"),
    [
        ("500 mm", "50 mm", "40 mm", "25 mm", "fits"),
        ("500 mm", "50 mm", "40 mm", "26 mm", "fails"),
        ("500 mm", "90 mm", "40 mm", "40 mm", "fits"),
        ("500 mm", "90 mm", "40 mm", "41 mm", "fails"),
        ("0 mm", "50 mm", "50 mm", "50 mm", "fits"),  # in a corner there is but one to round
        ("0 mm", "50 mm", "60 mm", "51 mm", "fails"),
        ("1950 mm", "50 mm", "50 mm", "50 mm", "fits"),
    ],
)
def test_a_radius_goes_into_its_notch(
    start: str, length: str, depth: str, radius: str, state: str
) -> None:
    answer = told(notch("n", "right", start, length, depth, radius))

    assert answer["state"] == state
    assert (of_rule(answer, "notch.round") != {}) == (state == "fails")


@pytest.mark.parametrize(
    ("across", "up", "diameter"),
    [
        ("880 mm", "520 mm", "12 mm"),  # within the notch
        ("866 mm", "520 mm", "12 mm"),  # over its inner side
        ("-", "520 mm", "12 mm"),  # over the edge
        ("450 mm", "1000 mm", "910 mm"),
    ],
)
def test_a_hole_in_a_notch_or_over_an_edge_leaves_no_mass(
    across: str, up: str, diameter: str
) -> None:
    across = "2 mm" if across == "-" else across
    hole = {**HOLE, "across": across, "up": up, "diameter": diameter}

    answer = told(notch("n", "right", "500 mm", "50 mm", "35 mm"), holes=(hole,))

    assert answer["state"] == "fails"
    assert without_numbers(answer)


def test_two_holes_that_run_into_each_other_leave_no_mass() -> None:
    far, near = ({**HOLE, "name": up, "up": up, "diameter": "20 mm"} for up in ("1 m", "1019 mm"))
    apart = {**far, "name": "apart", "up": "1021 mm"}

    assert without_numbers(told(holes=(far, near)))
    assert told(holes=(far, apart))["pane"]["glass_mass"] == "45.0 kg"


def test_an_order_that_leaves_no_pane_is_not_drawn() -> None:
    through = {**HINGE, "depth": "60 in"}
    asked = order_asked(panels=[{"name": "fixed"}, {"name": "door", "notches": [through]}])

    with pytest.raises(InputErrors) as refused:
        order_of(asked)

    assert [(one.pointer, one.detail) for one in refused.value.errors] == [("/panels/1", NOT_ONE)]


def test_glass_of_a_verdict_that_leaves_no_pane_is_not_ordered() -> None:
    case = opening_asked()
    rule = case["sheet"]["made_glass"]["panels"][1]
    rule["notches"] = [notch("n", "right", "500 mm", "100 mm", "700 mm")]

    verdict = check(case).as_json()

    made = verdict["made_glass"]
    assert (made["state"], made["order"], made["panels"]) == ("fails", None, [])
    assert verdict["state"] == "fails"
    assert verdict["panels"] == []
    before = check(case, version="4").as_json()
    assert before["made_glass"]["order"] is not None
    assert made_order(before) is None


def test_the_versions_before_say_nothing_of_it() -> None:
    case = opening_asked()
    rows = [
        notch("a", "right", "500 mm", "50 mm", "35 mm"),
        notch("b", "right", "552 mm", "50 mm", "35 mm"),
    ]
    case["sheet"]["made_glass"]["panels"][1]["notches"] = rows

    rules = {
        version: {one["rule"] for one in check(case, version=version).as_json()["findings"]}
        for version in ("4", "5")
    }

    assert rules["5"] - rules["4"] == {"notch.web"}


boxes = st.tuples(*(st.integers(0, 40) for _ in range(2)), *(st.integers(1, 20) for _ in range(2)))


def corners(box: tuple[int, ...]) -> tuple[Point, ...]:
    x, y, wide, tall = box
    return Point(x, y), Point(x + wide, y), Point(x + wide, y + tall), Point(x, y + tall)


@settings(max_examples=200)
@given(boxes, boxes)
def test_upright_boxes_are_apart_by_the_root_of_their_gaps(
    one: tuple[int, ...], other: tuple[int, ...]
) -> None:
    gaps = [
        max(0, other[i] - one[i] - one[i + 2], one[i] - other[i] - other[i + 2]) for i in (0, 1)
    ]

    assert between_nm(corners(one), corners(other)) == int((gaps[0] ** 2 + gaps[1] ** 2) ** 0.5)


def test_two_leaning_shapes_that_cross_without_a_corner_inside_are_not_apart() -> None:
    flat = (Point(-50, -2), Point(50, -2), Point(50, 2), Point(-50, 2))
    leaning = (Point(-30, -34), Point(34, 30), Point(30, 34), Point(-34, -30))
    away = tuple(Point(corner.x + 200, corner.y) for corner in leaning)

    assert all(twice_area(shape) > 0 for shape in (flat, leaning, away))
    assert between_nm(flat, leaning) == between_nm(leaning, flat) == 0
    assert between_nm(flat, away) == between_nm(away, flat) == 119  # 116 level, 28 plumb
