"""Does the way-in sketch show the rules' own poses and margins, and what nobody measured as unknown?"""

from math import cos, hypot, radians, sin
from typing import Any

import pytest

from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.model import NM_PER_MM, Path
from fitcheck.drawings.way_in import (
    STRAIGHT,
    panels_carried,
    steps_of,
    svg_way_in,
    tightest,
    way_in,
)
from fitcheck.drawings.way_in_poses import sketch_of
from fitcheck.rules.carrying import answer
from tests.fitcheck.drawings.openings import outside, overlaps, said

PANEL = {"name": "door", "width": "36 in", "height": "80 in", "thickness": "10 mm"}
LIFT = {"kind": "lift_car", "width": "40 in", "depth": "50 in", "height": "84 in"}
WAY: list[dict[str, str]] = [
    {"kind": "doorway", "name": "front door", "width": "32 in", "height": "80 in"},
    {"kind": "doorway", "name": "hatch", "width": "30 in", "height": "37 in"},
    {"kind": "corner", "name": "hall corner", "from": "38 in", "to": "34 in", "height": "94 in"},
    {
        "kind": "stairs",
        "name": "main stairs",
        "width": "36 in",
        "headroom": "78 in",
        "rise": "7 1/2 in",
        "going": "10 in",
    },
    {
        "kind": "stair_turn",
        "name": "landing",
        "flight": "36 in",
        "landing": "40 in",
        "height": "92 in",
    },
    {**LIFT, "name": "lift", "door_width": "31 in", "door_height": "80 in"},
    {**LIFT, "name": "low lift", "height": "60 in", "door_width": "24 in", "door_height": "60 in"},
    {**LIFT, "name": "tiny lift", "height": "40 in", "door_width": "20 in", "door_height": "30 in"},
    {"kind": "stairs", "name": "cellar stairs", "width": "34 in"},
]


def test_each_place_has_the_answer_that_the_rules_give_the_whole_way() -> None:
    question = {"panel": {**PANEL, "mass": "44 kg"}, "people": 2, "convention": "hse_l23"}
    question["panel"] = {k: v for k, v in question["panel"].items() if k != "name"}  # type: ignore[attr-defined]
    told: Any = answer({**question, "way": WAY[:-1]})

    steps = steps_of(PANEL, WAY)

    assert [s.passage for s in steps[:-1]] == told["way"]
    assert steps[-1].passage is None
    tight = tightest(steps)
    assert tight is not None
    assert tight.name == told["tightest"]["name"] == "tiny lift"


def test_it_names_poses_margins_the_tightest_place_and_the_unknown() -> None:
    svg = svg_way_in(PANEL, steps_of(PANEL, WAY))
    told = said(svg)

    assert overlaps(svg) == []
    assert outside(svg) == []
    for step in steps_of(PANEL, WAY):
        if step.passage and step.state != "fails":
            assert f"{step.state}: {step.passage['pose']}" in told
    assert "THE TIGHTEST PLACE fails: short by" in told
    unknown = (
        "cellar stairs (wide 34 in · 863.6 mm): not worked out; measure headroom, rise, going."
    )
    assert unknown in told
    assert "9 cellar stairs" not in told  # no sketch of what nobody has measured


def test_the_words_stand_beside_a_sketch_that_is_alone() -> None:
    steps = steps_of(PANEL, [WAY[0], WAY[-1]])
    svg = svg_way_in(PANEL, steps)

    assert way_in(PANEL, steps).height < 200  # so that it ends the cover, not a page of its own
    assert overlaps(svg) == []
    assert outside(svg) == []
    assert "TIGHTEST" not in said(svg)  # of one


def test_nothing_known_of_the_way_asks_for_it() -> None:
    assert "ask for doors, corridors, stairs and lift" in said(svg_way_in(PANEL, []))
    assert "No size of the way in" in said(svg_way_in({}, steps_of({}, [{"kind": "roof"}])))


@pytest.mark.parametrize("place", WAY[:-1], ids=lambda p: p["name"])
def test_a_panel_is_drawn_as_large_as_it_is_and_inside_a_door_or_lift(
    place: dict[str, str],
) -> None:
    (step,) = steps_of(PANEL, [place])
    pose = (step.passage or {}).get("pose")
    sketch = sketch_of(PANEL, step.kind, step.sizes, pose)
    glass = [s for s in sketch.shapes if isinstance(s, Path) and s.layer == "glass"]

    assert len(glass) == (0 if pose is None else 1)
    for path in glass:
        a, b, c, _ = ((p.x / NM_PER_MM, p.y / NM_PER_MM) for p in path.points)
        long = max(hypot(b[0] - a[0], b[1] - a[1]), hypot(c[0] - b[0], c[1] - b[1]))
        if not str(pose).startswith("tilted"):  # its length in plan is neither side then
            assert min(abs(long - m) for m in (36 * 25.4, 80 * 25.4)) < 1e-3
        if step.kind in ("doorway", "lift_car"):
            for point in path.points:
                assert -1 <= point.x / NM_PER_MM <= sketch.wide_mm + 1
                assert -1 <= point.y / NM_PER_MM <= sketch.tall_mm + 1


def test_at_a_corner_the_panel_is_drawn_where_it_has_the_least_room() -> None:
    # Ladder round a corner (calculus): with both corridors alike the tightest turn is at 45 degrees.
    place = {"kind": "corner", "name": "c", "from": "900 mm", "to": "900 mm", "height": "2400 mm"}
    (step,) = steps_of(PANEL, [place])
    sketch = sketch_of(PANEL, "corner", step.sizes, (step.passage or {})["pose"])
    (path,) = [s for s in sketch.shapes if isinstance(s, Path) and s.layer == "glass"]
    foot, _, _, tip = path.points

    long = length_nm(PANEL["width"])
    assert long is not None
    assert foot.x - tip.x == pytest.approx(long * cos(radians(45)), rel=1e-6)
    assert tip.y - foot.y == pytest.approx(long * sin(radians(45)), rel=1e-6)


def test_the_tightest_panel_stands_first_packed_on_every_side() -> None:
    small = {**PANEL, "name": "fixed", "width": "20 in", "height": "70 in"}
    panel, steps = panels_carried([small, PANEL], WAY)[0]
    bare = steps_of(PANEL, WAY)

    assert panel == {**PANEL, "packed": "25 mm"}
    assert len(steps) == len(bare)
    (door,) = steps_of(
        {**PANEL, "width": "964.4 mm", "height": "2082 mm", "thickness": "60 mm"}, WAY[:1]
    )
    assert steps[0].passage == door.passage
    assert "Reckoned with 25 mm of packing on every side" in said(svg_way_in(panel, steps))


def test_without_a_place_the_largest_panel_stands_first_and_the_reason_is_said() -> None:
    small = {**PANEL, "name": "fixed", "width": "20 in"}
    panel, steps = panels_carried([small, PANEL], [])[0]

    assert panel["name"] == "door"
    assert STRAIGHT in said(svg_way_in(panel, steps, (STRAIGHT,)))


def test_a_turn_over_whose_steps_it_hangs_is_drawn_as_not_known() -> None:
    turn = {"kind": "stair_turn", "flight": "60 in", "landing": "30 in", "height": "92 in"}
    panel = {**PANEL, "width": "40 in"}
    untold, told = (
        steps_of(panel, [{**turn, **more}])
        for more in ({}, {"rise": "7 in", "going": "10 in", "across": "130 in"})
    )

    assert (untold[0].state, told[0].state) == ("unknown", "fits")
    assert "not known: measure rise, going" in said(svg_way_in(panel, untold))
    assert "landing across 130 in" in said(svg_way_in(panel, told))
