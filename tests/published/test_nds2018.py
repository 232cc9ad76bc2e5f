"""National Design Specification for Wood Construction (2018), chapter 12.

Table 12.2A (lag screws) and the formula of 12.2.2 were read; the wood-screw columns were worked
out from the formula and rounded as the tables print; lead-hole bands are from memory. Example
E2.3 is from the American Wood Council's "Structural Wood Design Solved Example Problems".
"""

from typing import Any

import pytest

from fitcheck.rules import holding
from fitcheck.rules.length import inch_text, length_parse
from fitcheck.rules.screws import (
    lead_hole_nm,
    least_penetration_nm,
    screw_major_nm,
    withdrawal_lag_screw,
    withdrawal_wood_screw,
)
from tests.fitcheck.rules.holding_cases import asked, wood

ROUNDED_TO_A_POUND = 0.5
NUMBERS = (6, 8, 10, 12, 14)
LAGS = (0.25, 0.3125, 0.375, 0.5)


@pytest.mark.parametrize(
    ("gravity", "pounds"),
    [
        (0.36, (51, 61, 70, 80, 89)),
        (0.42, (69, 82, 96, 109, 122)),
        (0.43, (73, 86, 100, 114, 128)),
        (0.50, (98, 117, 135, 154, 172)),
        (0.55, (119, 141, 164, 186, 209)),
    ],
)
def test_12_2_2_wood_screws_pull_out_per_inch(gravity: float, pounds: tuple[int, ...]) -> None:
    diameters = [screw_major_nm(number) / 25_400_000 for number in NUMBERS]

    found = [withdrawal_wood_screw(gravity, diameter) for diameter in diameters]

    assert found == pytest.approx(pounds, abs=ROUNDED_TO_A_POUND)


def test_12_2_2_worked_value_of_a_number_10_in_0_45() -> None:
    assert int(withdrawal_wood_screw(0.45, 0.190)) == 109


@pytest.mark.parametrize(
    ("gravity", "pounds"),
    [
        (0.36, (137, 163, 186, 231)),
        (0.42, (173, 205, 235, 291)),
        (0.43, (179, 212, 243, 302)),
        (0.50, (225, 266, 305, 378)),
        (0.55, (260, 307, 352, 437)),
    ],
)
def test_table_12_2a_lag_screws_pull_out_per_inch(gravity: float, pounds: tuple[int, ...]) -> None:
    found = [withdrawal_lag_screw(gravity, diameter) for diameter in LAGS]

    assert found == pytest.approx(pounds, abs=ROUNDED_TO_A_POUND)


def test_example_e2_3_lag_of_half_an_inch_holds_955_pounds_without_its_tip() -> None:
    penetration_without_tip = 4 - 1.5 - 5 / 16

    assert penetration_without_tip == 2.1875
    assert withdrawal_lag_screw(0.55, 0.5) == pytest.approx(436.6, abs=0.05)
    assert withdrawal_lag_screw(0.55, 0.5) * penetration_without_tip == pytest.approx(
        955.0, abs=0.2
    )


@pytest.mark.parametrize(
    ("number", "inches"), [(8, "0.984 in"), (10, "1.14 in"), (12, "1.296 in"), (14, "1.452 in")]
)
def test_12_1_5_least_penetration_is_six_diameters(number: int, inches: str) -> None:
    assert least_penetration_nm(number) == length_parse(inches).nm


@pytest.mark.parametrize(
    ("number", "light", "dense"),
    [
        (8, "3/32 in", "1/8 in"),
        (10, "7/64 in", "9/64 in"),
        (12, "1/8 in", "5/32 in"),
        (14, "9/64 in", "11/64 in"),
    ],
)
def test_12_1_5_lead_holes_to_the_nearest_bit_from_memory(
    number: int, light: str, dense: str
) -> None:
    assert inch_text(lead_hole_nm(number), 64) == light
    assert inch_text(lead_hole_nm(number, dense=True), 64) == dense


END = wood(grain="end", species="spruce_pine_fir")
LAG = {"size": "1/4 in", "length": "4 in"}


def test_12_2_2_no_wood_screw_is_pulled_from_end_grain() -> None:
    answer: Any = holding.answer(asked(END))

    assert answer["state"] == "fails"
    assert [one["rule"] for one in answer["findings"]] == ["fixing.grain"]
    assert answer["capacity"] is None
    assert answer["findings"][0]["source"]["clause"] == "12.2.2"


def test_12_2_1_a_lag_in_end_grain_holds_three_quarters_of_its_pull() -> None:
    """And 0.67 of its lateral value, from memory."""
    side: Any = holding.answer(asked(wood(screw=LAG)))["capacity"]
    end: Any = holding.answer(asked(wood(screw=LAG, grain="end")))["capacity"]

    for name, share in (("withdrawal", 0.75), ("lateral", 0.67)):
        held = [float(one[name]["newton"].split()[0]) for one in (end, side)]
        assert held[0] / held[1] == pytest.approx(share, abs=0.001)


def test_side_grain_is_what_is_meant_when_nothing_is_said() -> None:
    assert holding.answer(asked(wood())) == holding.answer(asked(wood(grain="side")))
