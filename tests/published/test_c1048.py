"""ASTM C1048, holes in tempered glass, as two independent suppliers restate it.

The standard itself was not read; the table of worked values comes from one of the two pages.
"""

import pytest

from fitcheck.rules.cautions import ALWAYS
from fitcheck.rules.glass import glass_hole_c1048
from fitcheck.rules.length import length_parse
from fitcheck.rules.safety_mark import glass_kind


@pytest.mark.parametrize(
    ("thickness", "diameter", "edge", "between", "corner"),
    [
        ("1/4 in", "5/16 in", "1/2 in", "1/2 in", "1 5/8 in"),
        ("3/8 in", "7/16 in", "3/4 in", "3/4 in", "2 7/16 in"),
        ("1/2 in", "9/16 in", "1 in", "1 in", "3 1/4 in"),
    ],
)
def test_table_of_least_diameters_and_distances(
    thickness: str, diameter: str, edge: str, between: str, corner: str
) -> None:
    hole = glass_hole_c1048(length_parse(thickness).nm)

    assert hole.diameter_nm == length_parse(diameter).nm
    assert hole.to_edge_nm == length_parse(edge).nm
    assert hole.between_nm == length_parse(between).nm
    assert hole.to_corner_nm == length_parse(corner).nm


@pytest.mark.parametrize(
    ("surface", "kind"), [(69, "tempered"), (68.9, "neither"), (52, "heat_strengthened")]
)
def test_kind_ft_by_its_surface(surface: float, kind: str) -> None:
    assert glass_kind(surface) == kind


def test_nothing_is_cut_drilled_or_edged_after_tempering() -> None:
    said = {one.code: one.text for one in ALWAYS}

    assert "Never cut, drill or edge tempered glass" in said["no_cutting"]


def test_thin_glass_keeps_the_least_of_a_quarter_and_three_eighths_inch() -> None:
    hole = glass_hole_c1048(length_parse("3/32 in").nm)

    assert hole.diameter_nm == length_parse("1/4 in").nm
    assert hole.to_edge_nm == length_parse("1/4 in").nm
    assert hole.between_nm == length_parse("3/8 in").nm
