"""NIST SP 811 (2008), appendix B: 1 in = 25.4 mm exactly.

From memory, but exact by definition; the products below are plain arithmetic.
"""

import pytest

from fitcheck.rules.length import inch_text, length_parse, mm_text


@pytest.mark.parametrize(
    ("inches", "millimetres"),
    [
        ("1 in", "25.4 mm"),
        ("1/64 in", "0.396875 mm"),
        ("1/32 in", "0.79375 mm"),
        ("1/16 in", "1.5875 mm"),
        ("1/8 in", "3.175 mm"),
        ("3/16 in", "4.7625 mm"),
        ("5/16 in", "7.9375 mm"),
        ("3/8 in", "9.525 mm"),
        ("7/16 in", "11.1125 mm"),
        ("59 13/16 in", "1519.2375 mm"),
        ("72 1/8 in", "1831.975 mm"),
        ("33 11/32 in", "846.93125 mm"),
    ],
)
def test_inches_are_exact_millimetres(inches: str, millimetres: str) -> None:
    assert mm_text(length_parse(inches).nm) == millimetres


@pytest.mark.parametrize(
    ("millimetres", "mark", "floor"),
    [
        ("1500 mm", 16, "59 in"),
        ("1500 mm", 32, "59 1/32 in"),
        ("1524 mm", 16, "60 in"),
        ("914 mm", 16, "35 15/16 in"),
    ],
)
def test_a_cut_in_inches_is_the_mark_below(millimetres: str, mark: int, floor: str) -> None:
    assert inch_text(length_parse(millimetres).nm, mark, "down") == floor


def test_a_needed_clearance_in_inches_is_the_mark_above() -> None:
    assert inch_text(length_parse("1500 mm").nm, 16, "up") == "59 1/16 in"
