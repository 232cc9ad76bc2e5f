"""NIST SP 811 and plain geometry: how far a cartridge reaches with no waste (computed values).

1 US fl oz = 29.5735 mL; 10.1 fl oz = 298.7 mL = 18.23 in3 (suppliers print 18.3).
"""

from decimal import Decimal

import pytest

from fitcheck.rules.joints import (
    cartridges,
    fillet_volume_um3,
    rectangular_volume_um3,
    volume_parse,
    yield_nm,
)
from fitcheck.rules.length import length_parse

MM = 10**6
ML = 10**12


@pytest.mark.parametrize(
    ("width", "depth", "of_300", "of_310"),
    [
        (3, 3, 33.33, 34.44),
        (5, 5, 12.00, 12.40),
        (6, 6, 8.33, 8.61),
        (10, 5, 6.00, 6.20),
        (12, 6, 4.17, 4.31),
    ],
)
def test_yield_in_metres(width: int, depth: int, of_300: float, of_310: float) -> None:
    for millilitres, metres in ((300, of_300), (310, of_310)):
        reach = yield_nm(millilitres * ML, width * MM, depth * MM)
        assert round(reach / 1e9, 2) == metres


@pytest.mark.parametrize(
    ("width", "depth", "feet"),
    [
        ("1/8 in", "1/8 in", 97.2),
        ("1/4 in", "1/4 in", 24.3),
        ("3/8 in", "1/4 in", 16.2),
        ("1/2 in", "1/4 in", 12.2),
        ("1/2 in", "3/8 in", 8.1),
    ],
)
def test_yield_in_feet_of_10_1_fluid_ounces(width: str, depth: str, feet: float) -> None:
    reach = yield_nm(volume_parse("10.1 fl oz"), length_parse(width).nm, length_parse(depth).nm)

    assert round(reach / 304_800_000, 1) == feet


def test_a_6_mm_fillet_reaches_16_67_m() -> None:
    assert fillet_volume_um3(6 * MM, 6 * MM, 16_666_666_666) <= 300 * ML
    assert fillet_volume_um3(6 * MM, 6 * MM, 16_666_666_668) > 300 * ML


def test_a_fluid_ounce() -> None:
    assert volume_parse("1 fl oz") == 29_573_529_562_500
    assert round(volume_parse("10.1 fl oz") / ML, 1) == 298.7
    assert round(volume_parse("10.1 fl oz") / 25.4**3 / 1e9, 2) == 18.23


def test_a_volume_is_rounded_up_and_a_cartridge_down() -> None:
    assert rectangular_volume_um3(1, 1, 1) == 1
    assert rectangular_volume_um3(1000, 1000, 1000) == 1
    assert fillet_volume_um3(1, 1, 1) == 1
    assert fillet_volume_um3(1000, 1000, 2000) == 1
    assert volume_parse("0.0001 mL") == 10**8


@pytest.mark.parametrize(
    ("volume", "waste", "number"),
    [(300, "0", 1), (301, "0", 2), (300, "10", 2), (272, "10", 1), (273, "10", 2), (0, "10", 0)],
)
def test_a_begun_cartridge_counts_whole(volume: int, waste: str, number: int) -> None:
    assert cartridges(volume * ML, 300 * ML, Decimal(waste)) == number


@pytest.mark.parametrize(
    "text",
    [
        "300",
        "300ml",
        "300 ml",
        "-1 mL",
        "0 mL",
        "1.2.3 mL",
        "mL",
        " mL",
        "1e3 mL",
        None,
        300,
        "٣ mL",
        "123456789 mL",
        "1/2 mL",
        ". mL",
    ],
)
def test_what_is_no_volume_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match=r"300 mL|more than nothing"):
        volume_parse(text)
