"""ASTM C1036 minimum thickness, as printed by the International Window Film Association,
"Guide to Avoiding Glass Failure - Glass Thickness". The page was read, the standard was not.
"""

import pytest

from fitcheck.rules.glass import thickness_label
from fitcheck.rules.length import length_parse


def test_a_pane_measured_at_0_223_in_is_labelled_a_quarter_inch() -> None:
    assert thickness_label(length_parse("0.223 in").nm) == "1/4 in"


@pytest.mark.parametrize(
    ("least", "label"),
    [
        ("0.085 in", "3/32 in"),
        ("0.115 in", "1/8 in"),
        ("0.149 in", "5/32 in"),
        ("0.180 in", "3/16 in"),
        ("0.219 in", "1/4 in"),
        ("0.292 in", "5/16 in"),
        ("0.355 in", "3/8 in"),
        ("0.469 in", "1/2 in"),
        ("0.719 in", "3/4 in"),
    ],
)
def test_the_least_thickness_earns_its_label(least: str, label: str) -> None:
    assert thickness_label(length_parse(least).nm) == label


def test_a_hair_under_the_least_earns_the_label_below() -> None:
    assert thickness_label(length_parse("0.355 in").nm - 1) == "5/16 in"


def test_glass_measured_at_9_65_mm_is_three_eighths_by_the_american_table() -> None:
    assert thickness_label(length_parse("9.65 mm").nm) == "3/8 in"


def test_thinner_than_every_label_has_none() -> None:
    assert thickness_label(length_parse("2 mm").nm) is None
