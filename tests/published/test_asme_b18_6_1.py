"""ASME B18.6.1, wood screws: d = 0.060 in + 0.013 in per number; formula and tolerance were read."""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.screws import clearance_hole_nm, lead_hole_nm, screw_major_nm, screw_number


@pytest.mark.parametrize(
    ("size", "diameter"),
    [
        ("#4", "0.112 in"),
        ("#6", "0.138 in"),
        ("#8", "0.164 in"),
        ("#9", "0.177 in"),
        ("#10", "0.190 in"),
        ("#12", "0.216 in"),
        ("#14", "0.242 in"),
        ("#16", "0.268 in"),
    ],
)
def test_diameter_of_a_numbered_screw(size: str, diameter: str) -> None:
    assert screw_major_nm(screw_number(size)) == length_parse(diameter).nm


@pytest.mark.parametrize("number", [4, 6, 8, 9, 10, 12, 14, 16])
def test_the_thickest_body_of_4_thousandths_more_passes_its_clearance_hole(number: int) -> None:
    """Body +0.004 / -0.007 in: 3/64 in is left round the thickest, 1/16 in round the thinnest."""
    thickest = screw_major_nm(number) + length_parse("0.004 in").nm
    thinnest = screw_major_nm(number) - length_parse("0.007 in").nm

    assert clearance_hole_nm(number) - thickest >= length_parse("3/64 in").nm
    assert clearance_hole_nm(number) - thinnest >= length_parse("1/16 in").nm


@pytest.mark.parametrize(("number", "dense"), [(n, d) for n in (8, 10, 12, 14) for d in (0, 1)])
def test_the_thinnest_body_of_7_thousandths_less_is_thicker_than_its_lead_hole(
    number: int, dense: int
) -> None:
    thinnest = screw_major_nm(number) - length_parse("0.007 in").nm

    assert lead_hole_nm(number, dense=bool(dense)) < thinnest


@pytest.mark.parametrize(
    ("fraction", "decimal"),
    [
        ("3/32 in", "0.09375 in"),
        ("7/64 in", "0.109375 in"),
        ("1/8 in", "0.125 in"),
        ("9/64 in", "0.140625 in"),
        ("5/32 in", "0.15625 in"),
        ("11/64 in", "0.171875 in"),
        ("13/64 in", "0.203125 in"),
        ("7/32 in", "0.21875 in"),
        ("5/16 in", "0.3125 in"),
    ],
)
def test_fractional_drills_are_exact(fraction: str, decimal: str) -> None:
    assert length_parse(fraction).nm == length_parse(decimal).nm


@pytest.mark.parametrize("size", ["10", "#", "#ten", "# 10"])
def test_a_size_is_a_number_sign_and_digits(size: str) -> None:
    with pytest.raises(ValueError, match="write #10"):
        screw_number(size)
