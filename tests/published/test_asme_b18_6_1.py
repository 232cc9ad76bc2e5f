"""ASME B18.6.1, wood screws: d = 0.060 in + 0.013 in per number; the formula was read."""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.screws import screw_major_nm, screw_number


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
