"""EN 572-1, soda-lime silicate glass: 2500 kg/m3, as restated by a glass handbook.

The standard itself was not read; 2.5 kg per m2 per mm is the same figure in other words.
"""

import pytest

from fitcheck.rules.glass import UG_PER_KG, glass_mass_ug, thickness_for_mass
from fitcheck.rules.length import length_parse
from fitcheck.rules.quantity import UG_PER_LB, kg_text

METRE = 10**9
ROUNDED_TO_HUNDREDTHS = 0.005
ROUNDED_TO_THOUSANDTHS = 0.0005
MADE_FROM_THE_ROUNDED_13_006 = 0.001
TRADE_TABLE_OF_157_LB_PER_CUBIC_FOOT = 0.01


def nm(text: str) -> int:
    return length_parse(text).nm


@pytest.mark.parametrize(
    ("thickness", "kg"),
    [
        ("5 mm", 12.5),
        ("6 mm", 15.0),
        ("8 mm", 20.0),
        ("10 mm", 25.0),
        ("12 mm", 30.0),
        ("19 mm", 47.5),
    ],
)
def test_a_square_metre_weighs_two_and_a_half_kilograms_per_millimetre(
    thickness: str, kg: float
) -> None:
    assert glass_mass_ug(METRE, METRE, nm(thickness)) == round(kg * UG_PER_KG)


def test_a_panel_of_900_by_2000_by_8_weighs_36_kg() -> None:
    assert kg_text(glass_mass_ug(nm("900 mm"), nm("2000 mm"), nm("8 mm"))) == "36.0 kg"


@pytest.mark.parametrize(("thickness", "pounds"), [("9.525 mm", 72.07), ("10 mm", 75.67)])
def test_28_by_76_in_weighs_five_percent_more_at_10_mm_than_at_three_eighths(
    thickness: str, pounds: float
) -> None:
    mass = glass_mass_ug(nm("28 in"), nm("76 in"), nm(thickness)) / UG_PER_LB

    assert mass == pytest.approx(pounds, abs=ROUNDED_TO_HUNDREDTHS)


def test_a_cubic_foot_weighs_156_07_pounds_and_a_square_foot_13_006_per_inch_computed() -> None:
    cubic = glass_mass_ug(nm("12 in"), nm("12 in"), nm("12 in")) / UG_PER_LB
    square = glass_mass_ug(nm("12 in"), nm("12 in"), nm("1 in")) / UG_PER_LB

    assert cubic == pytest.approx(156.07, abs=ROUNDED_TO_HUNDREDTHS)
    assert square == pytest.approx(13.006, abs=ROUNDED_TO_THOUSANDTHS)


@pytest.mark.parametrize(
    ("nominal", "at_nominal", "label", "at_label"),
    [
        ("5 mm", 2.560, "3/16 in", 2.439),
        ("6 mm", 3.072, "1/4 in", 3.252),
        ("8 mm", 4.096, "5/16 in", 4.064),
        ("10 mm", 5.120, "3/8 in", 4.877),
        ("12 mm", 6.144, "1/2 in", 6.503),
        ("19 mm", 9.729, "3/4 in", 9.754),
    ],
)
def test_pounds_per_square_foot_by_millimetres_and_by_the_fraction_computed(
    nominal: str, at_nominal: float, label: str, at_label: float
) -> None:
    found = [glass_mass_ug(nm("12 in"), nm("12 in"), nm(t)) / UG_PER_LB for t in (nominal, label)]

    assert found == pytest.approx([at_nominal, at_label], abs=MADE_FROM_THE_ROUNDED_13_006)


@pytest.mark.parametrize(
    ("label", "pounds"),
    [("3/16 in", 2.45), ("1/4 in", 3.27), ("3/8 in", 4.91), ("1/2 in", 6.54), ("3/4 in", 9.84)],
)
def test_a_trade_table_of_pounds_per_square_foot_agrees_to_one_percent(
    label: str, pounds: float
) -> None:
    mass = glass_mass_ug(nm("12 in"), nm("12 in"), nm(label)) / UG_PER_LB

    assert mass == pytest.approx(pounds, rel=TRADE_TABLE_OF_157_LB_PER_CUBIC_FOOT)


@pytest.mark.parametrize(
    ("named", "reckoned"),
    [
        ("3/8 in", "10 mm"),
        ("10 mm", "10 mm"),
        ("12 mm", "1/2 in"),
        ("5/16 in", "8 mm"),
        ("7 mm", "7 mm"),
    ],
)
def test_the_heavier_of_the_two_thicknesses_of_one_name_is_reckoned_with(
    named: str, reckoned: str
) -> None:
    assert thickness_for_mass(nm(named)) == nm(reckoned)
