"""ASTM C1036 minimum thickness, as printed by the International Window Film Association,
"Guide to Avoiding Glass Failure - Glass Thickness". The page was read, the standard was not.
"""

import pytest

from fitcheck.rules.glass import thickness_label
from fitcheck.rules.length import length_parse
from fitcheck.rules.tables import GLASS_THICKNESS


def test_a_pane_measured_at_0_223_in_is_labelled_a_quarter_inch() -> None:
    assert thickness_label(length_parse("0.223 in").nm) == "1/4 in"


@pytest.mark.parametrize(
    ("least", "label"),
    [
        ("0.085 in", "3/32 in"),
        ("0.102 in", "7/64 in"),
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


@pytest.mark.parametrize(
    ("label", "nominal", "least"),
    [
        ("3/32 in", "2.5 mm", 2.16),
        ("7/64 in", "2.7 mm", 2.59),
        ("1/8 in", "3 mm", 2.92),
        ("5/32 in", "4 mm", 3.78),
        ("3/16 in", "5 mm", 4.57),
        ("1/4 in", "6 mm", 5.56),
        ("5/16 in", "8 mm", 7.42),
        ("3/8 in", "10 mm", 9.02),
        ("1/2 in", "12 mm", 11.91),
        ("3/4 in", "19 mm", 18.26),
    ],
)
def test_the_row_of_least_millimetres_is_the_row_of_inches_rounded_to_hundredths(
    label: str, nominal: str, least: float
) -> None:
    named, inches = GLASS_THICKNESS.value[label]

    assert named == nominal
    assert round(length_parse(inches).nm / 1e6, 2) == least


def test_a_hair_under_the_least_earns_the_label_below() -> None:
    assert thickness_label(length_parse("0.355 in").nm - 1) == "5/16 in"


def test_glass_measured_at_9_65_mm_is_three_eighths_by_the_american_table() -> None:
    assert thickness_label(length_parse("9.65 mm").nm) == "3/8 in"


def test_thinner_than_every_label_has_none() -> None:
    assert thickness_label(length_parse("2 mm").nm) is None
