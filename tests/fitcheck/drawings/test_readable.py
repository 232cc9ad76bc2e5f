"""Does every drawing stay readable: words apart, on the paper, large enough, numbers from the data?"""

import re
from collections.abc import Callable
from functools import partial
from typing import Any
from xml.etree import ElementTree

import pytest

from fitcheck.check import check
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.handing import svg_handing
from fitcheck.drawings.hole_map import svg_hole_map
from fitcheck.drawings.margins import svg_margins
from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.plan import svg_plan
from fitcheck.drawings.section import svg_section
from fitcheck.rules.length import inch_text
from tests.fitcheck.drawings.openings import (
    SVG,
    extremes,
    left_by_kit,
    lengths_said,
    outside,
    overlaps,
    said,
    twenty_holes,
)

Inputs = dict[str, Any]
Draw = Callable[[Inputs, Inputs], str]
DRAWINGS: dict[str, Draw] = {
    "elevation": svg_elevation,
    "plan": svg_plan,
    "section": svg_section,
    "margins": lambda inputs, verdict: svg_margins(verdict),
    "left wall": partial(svg_hole_map, surface="left_wall"),
    "right wall": partial(svg_hole_map, surface="right_wall"),
    "handing": svg_handing,
    "cuts": lambda inputs, verdict: svg_cut_bars(verdict),
}
CASES = (
    "as read",
    "very wide",
    "very narrow",
    "leaning",
    "nothing read",
    "many studs",
    "no opening",
)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("name", DRAWINGS)
def test_words_stay_apart_and_on_the_paper(
    name: str, case: str, inputs: Inputs, verdict: Inputs
) -> None:
    svg = DRAWINGS[name](extremes(inputs)[case], {} if case == "no opening" else verdict)

    assert overlaps(svg) == []
    assert outside(svg) == []


@pytest.mark.parametrize("name", DRAWINGS)
def test_it_is_named_black_and_white_and_large_enough(
    name: str, inputs: Inputs, verdict: Inputs
) -> None:
    svg = DRAWINGS[name](inputs, verdict)
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output

    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title")
    assert len(root.findtext(f"{SVG}desc") or "") > 40
    assert min(float(s) for s in re.findall(r'font-size="([\d.]+)"', svg)) >= 9
    assert set(re.findall(r'(?:fill|stroke)="(#\w+)"', svg)) <= {"#000", "#555", "#fff"}
    assert svg == DRAWINGS[name](inputs, verdict)


def told_nm(value: Any) -> set[int]:
    """Every length anywhere in the data [nm]."""
    if isinstance(value, dict):
        return set().union(*map(told_nm, value.values())) if value else set()
    if isinstance(value, list):
        return set().union(*map(told_nm, value)) if value else set()
    found = length_nm(value)
    return set() if found is None else {abs(found)}


@pytest.mark.parametrize("name", ["elevation", "plan", "section", "handing", "margins"])
@pytest.mark.parametrize("case", ["as read", "very narrow", "many studs"])
def test_every_length_in_it_is_the_datas_own(
    name: str, case: str, inputs: Inputs, verdict: Inputs
) -> None:
    read = extremes(inputs)[case]
    svg = DRAWINGS[name](read, verdict)

    known = told_nm(read) | told_nm(verdict) | left_by_kit(read, verdict)
    assert foreign(svg, known) == set()
    assert len(lengths_said(svg)) > 3


def test_a_hole_map_says_only_the_datas_lengths_and_distances_to_a_zones_edges(
    inputs: Inputs, verdict: Inputs
) -> None:
    known = told_nm(inputs) | told_nm(verdict)
    heights = {length_nm(f["height"]) or 0 for f in verdict["fixings"]}
    edges = {0, length_nm("90 in") or 0}  # both walls' zones reach from the sill to 90 in
    known |= {abs(edge - height) for edge in edges for height in heights}

    for name in ("left wall", "right wall"):
        assert foreign(DRAWINGS[name](inputs, verdict), known) == set()


def foreign(svg: str, known: set[int]) -> set[str]:
    """Lengths in a drawing that are neither the data's own nor one of them in the other unit."""
    twins = known | {length_nm(inch_text(nm, mark)) or 0 for nm in known for mark in (16, 32)}
    return {text for text in lengths_said(svg) if abs(length_nm(text) or 0) not in twins}


def test_a_hole_map_with_twenty_holes_keeps_every_one(inputs: Inputs, verdict: Inputs) -> None:
    svg = svg_hole_map(inputs, twenty_holes(verdict), "left_wall")

    assert overlaps(svg) == []
    assert outside(svg) == []
    for i in range(20):
        assert f"part {i + 1}, 2 holes, {4 + 4 * i} in" in said(svg)


def test_the_hole_map_tells_size_stud_and_edges(inputs: Inputs, verdict: Inputs) -> None:
    told = said(svg_hole_map(inputs, verdict, "left_wall"))

    assert "rail bracket, 2 holes, 73 in · 1854.2 mm up" in told
    assert "final 17/64 in through glazed ceramic; pilot 7/64 in through wood" in told
    assert "stud hit; its centre 2 7/8 in · 73.025 mm from the outer edge" in told
    assert "17 in · 431.8 mm to the upper edge of (A)" in told  # 90 in less 73 in, by hand
    assert "how far in: by the part" in told


def test_what_nobody_read_is_said_and_never_drawn_as_a_figure(inputs: Inputs) -> None:
    unread = {**inputs, "readings": [], "zones": [], "sheet": {}}

    assert "depth not read" in said(svg_plan(unread, {}))
    assert "no width read" in said(svg_plan(unread, {}))
    assert "Depth not read." in said(svg_section(unread, {}))
    assert "stud not read" in said(svg_hole_map(unread, {}, "left_wall"))
    for draw in (svg_plan, svg_section, svg_handing):
        assert lengths_said(draw(unread, {})) == set()


@pytest.mark.parametrize(
    ("head", "words", "side"),
    [
        ("left", "handle holes on the shower-head side", "left"),
        ("right", "handle holes on the shower-head side", "right"),
        ("unknown", "handle holes on the shower-head side", None),
        ("left", "pull holes at the right edge", "right"),
        ("left", "holes by the sheet", None),
    ],
)
def test_handle_holes_are_on_the_side_that_shower_head_and_sheet_give(
    head: str, words: str, side: str | None, inputs: Inputs, verdict: Inputs
) -> None:
    opening = {**inputs["opening"], "shower_head_side": head}
    panel = {**verdict["panels"][1], "handing": words}

    told = said(svg_handing({**inputs, "opening": opening}, {**verdict, "panels": [panel]}))

    assert ("not known" in told) == (side is None)
    assert (f"on the {side}" in told) == (side is not None)


def test_a_sill_that_falls_outward_is_named(inputs: Inputs, verdict: Inputs) -> None:
    readings = [
        {**r, "value": "-1/8 in"} if r["quantity"] == "sill_fall" else r for r in inputs["readings"]
    ]
    wrong = {**inputs, "readings": readings}

    assert "falls OUTWARD" in said(svg_plan(wrong, verdict))
    assert "water would run into the bathroom" in said(svg_section(wrong, verdict))


def test_a_handle_side_that_the_rules_worked_out_counts(inputs: Inputs, verdict: Inputs) -> None:
    worked_out = {
        **verdict,
        "panes": [{"name": "outer", "handle": "right"}, {"name": "inner", "handle": None}],
    }

    told = said(svg_handing(inputs, worked_out))

    assert "on the right" in told
    assert "on the left" not in told


def test_where_the_sheet_puts_the_screws_is_held_against_the_stud(
    inputs: Inputs, verdict: Inputs
) -> None:
    sheet = {**inputs["sheet"], "rail": {"roller_spacing": "20 in", "hangs": ["inner"]}}
    sheet["fixings"] = [
        {**f, "bracket": {"setback": "2 3/4 in"}} if f["place"] == "rail bracket" else f
        for f in sheet["fixings"]
    ]

    told = said(svg_hole_map({**inputs, "sheet": sheet}, verdict, "left_wall"))

    assert "screws 2 3/4 in · 69.85 mm from the outer edge, by the sheet" in told
    assert (
        "1/8 in · 3.175 mm off the stud's centre at 2 7/8 in" in told
    )  # 2 7/8 less 2 3/4, by hand
    assert "Rollers 20 in · 508 mm apart" in said(svg_handing({**inputs, "sheet": sheet}, verdict))


def test_a_metric_sheet_has_millimetres_first(hinged: Inputs) -> None:
    told = said(svg_hole_map(hinged, check(hinged).as_json(), "left_wall"))

    assert "650 mm · about 25 9/16 in to the upper edge of (A)" in told  # 2300 mm less 1650 mm
