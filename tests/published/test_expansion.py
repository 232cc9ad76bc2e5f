"""Thermal expansion of materials, a table that was read, and Douglas fir as a university course of 2002
has it: 2.1e-6 and 32e-6 per degree Fahrenheit; steel, concrete, timber from memory.
"""

from fractions import Fraction

import pytest

from fitcheck.rules.joints import expansion, greatest_expansion, movement_nm
from fitcheck.rules.tables_sealing import EXPANSION_READ, EXPANSION_REMEMBERED


@pytest.mark.parametrize(
    ("material", "mm"),
    [("aluminium", "1.92"), ("glass", "0.72"), ("acrylic", "6.00"), ("clay_tile", "0.472")],
)
def test_two_metres_over_40_kelvin(material: str, mm: str) -> None:
    moved = movement_nm(greatest_expansion(material), 2 * 10**9, Fraction(40))

    assert moved == int(Fraction(mm) * 10**6)


def test_a_table_of_expansion() -> None:
    read = {name: float(value) for name, value in EXPANSION_READ.value.items()}
    remembered = {
        name: tuple(map(float, ends)) for name, ends in EXPANSION_REMEMBERED.value.items()
    }

    assert read == {"aluminium": 24, "glass": 9, "acrylic": 75, "clay_tile": 5.9, "brass": 19}
    assert remembered == {
        "stainless_steel": (17.3, 17.3),
        "concrete": (10, 14.5),
        "timber_along_grain": (3, 5),
    }


@pytest.mark.parametrize(
    ("material", "fahrenheit", "kelvin"),
    [("douglas_fir_along_grain", 2.1, 3.8), ("douglas_fir_across_grain", 32, 57.6)],
)
def test_douglas_fir_along_and_across_its_grain(
    material: str, fahrenheit: float, kelvin: float
) -> None:
    least, most = expansion(material)

    assert float(least) == float(most) == kelvin
    assert float(most) == pytest.approx(fahrenheit * 1.8, abs=0.03)


@pytest.mark.parametrize(
    ("material", "against", "millionths"),
    [
        ("aluminium", "concrete", 14),
        ("concrete", "aluminium", 14),
        ("concrete", "glass", "5.5"),
        ("timber_along_grain", "glass", 6),
        ("concrete", "timber_along_grain", "11.5"),
        ("concrete", "concrete", "4.5"),
        ("aluminium", "glass", 15),
        ("concrete", None, "14.5"),
    ],
)
def test_of_a_range_the_end_that_moves_the_joint_more_counts(
    material: str, against: str | None, millionths: int | str
) -> None:
    assert greatest_expansion(material, against) == Fraction(millionths)
    assert expansion("concrete") == (10, Fraction("14.5"))


def test_a_movement_has_no_sign_and_is_rounded_up() -> None:
    assert movement_nm(Fraction(-24), 1000, Fraction(1)) == 1
    assert movement_nm(Fraction(0), 10**9, Fraction(40)) == 0
