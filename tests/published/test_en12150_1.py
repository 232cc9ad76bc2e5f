"""EN 12150-1:2015, clause 7.4, holes in toughened glass: from memory, the text was not seen."""

import pytest

from fitcheck.rules.glass import glass_hole_c1048, glass_hole_en12150
from fitcheck.rules.length import length_parse


@pytest.mark.parametrize(
    ("thickness", "diameter", "edge", "between", "corner"),
    [("10 mm", "10 mm", "20 mm", "20 mm", "60 mm"), ("8 mm", "8 mm", "16 mm", "16 mm", "48 mm")],
)
def test_distances_are_multiples_of_the_thickness(
    thickness: str, diameter: str, edge: str, between: str, corner: str
) -> None:
    hole = glass_hole_en12150(length_parse(thickness).nm)

    assert hole.diameter_nm == length_parse(diameter).nm
    assert hole.to_edge_nm == length_parse(edge).nm
    assert hole.between_nm == length_parse(between).nm
    assert hole.to_corner_nm == length_parse(corner).nm


def test_the_two_editions_are_not_the_same_rule() -> None:
    thickness = length_parse("10 mm").nm

    assert glass_hole_c1048(thickness).to_corner_nm > glass_hole_en12150(thickness).to_corner_nm
