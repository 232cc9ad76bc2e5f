"""DHHS (NIOSH) Publication 94-110, revised 9/2021: the lifting equation.

Read through a page-by-page transcription; loads and some inputs of the examples are from
memory, so that only limits are compared. The examples print rounded multipliers: 2 %.
"""

import pytest

from fitcheck.rules.handling import Lift, Units, frequency_multiplier, recommended_weight_limit

PRINTED_MULTIPLIERS_ARE_ROUNDED = 0.02
TO_THE_LAST_DIGIT = 0.005

EXAMPLE_4_ORIGIN = Lift(10, 22, 37, 0, 3, 1, "fair")
EXAMPLE_4_DESTINATION = Lift(20, 59, 37, 0, 3, 1, "fair")
EXAMPLE_1_ORIGIN = Lift(23, 15, 48, 0, 0.2, 1, "fair")
EXAMPLE_1_DESTINATION = Lift(23, 63, 48, 0, 0.2, 1, "fair")


@pytest.mark.parametrize(
    ("lift", "printed"),
    [
        (EXAMPLE_4_ORIGIN, 34.9),
        (EXAMPLE_4_DESTINATION, 15.2),
        (EXAMPLE_1_ORIGIN, 16.3),
        (EXAMPLE_1_DESTINATION, 14.5),
    ],
    ids=["example 4 origin", "example 4 destination", "example 1 origin", "example 1 destination"],
)
def test_examples_in_us_units(lift: Lift, printed: float) -> None:
    limit = recommended_weight_limit(lift, "us")

    assert limit == pytest.approx(printed, rel=PRINTED_MULTIPLIERS_ARE_ROUNDED)


@pytest.mark.parametrize(
    ("lift", "units", "constant"),
    [
        (Lift(25, 75, 25, 0, 0.2, 1, "good"), "metric", 23.0),
        (Lift(10, 30, 10, 0, 0.2, 1, "good"), "us", 51.0),
    ],
)
def test_the_ideal_lift_is_the_load_constant(lift: Lift, units: Units, constant: float) -> None:
    assert recommended_weight_limit(lift, units) == constant


@pytest.mark.parametrize(
    ("lift", "multiplier"),
    [
        (Lift(40, 75, 25, 0, 0.2, 1, "good"), 0.625),
        (Lift(25, 175, 25, 0, 0.2, 1, "good"), 0.70),
        (Lift(25, 75, 100, 0, 0.2, 1, "good"), 0.865),
        (Lift(25, 75, 25, 30, 0.2, 1, "good"), 0.904),
    ],
    ids=["H 40 cm", "V 175 cm", "D 100 cm", "A 30 deg"],
)
def test_one_multiplier_at_a_time(lift: Lift, multiplier: float) -> None:
    assert recommended_weight_limit(lift) / 23 == pytest.approx(multiplier)


@pytest.mark.parametrize(("vertical", "multiplier"), [(74.9, 0.95), (75, 1.0)])
def test_table_7_fair_coupling_is_better_from_75_cm_up(vertical: float, multiplier: float) -> None:
    good = recommended_weight_limit(Lift(25, vertical, 25, 0, 0.2, 1, "good"))

    fair = recommended_weight_limit(Lift(25, vertical, 25, 0, 0.2, 1, "fair"))

    assert fair / good == pytest.approx(multiplier)


@pytest.mark.parametrize(
    ("lift", "kilograms"),
    [
        (Lift(40, 75, 25, 0, 0.2, 1, "poor"), 12.94),
        (Lift(45, 60, 90, 30, 1, 1, "poor"), 8.12),
        (Lift(63, 75, 25, 0, 0.2, 1, "good"), 9.13),
        (Lift(30, 20, 100, 45, 3, 1, "fair"), 9.91),
    ],
)
def test_glazing_lifts_computed_by_hand_from_the_equation(lift: Lift, kilograms: float) -> None:
    assert recommended_weight_limit(lift) == pytest.approx(kilograms, abs=TO_THE_LAST_DIGIT)


@pytest.mark.parametrize(
    "lift",
    [
        Lift(63.1, 75, 25, 0, 0.2, 1, "good"),
        Lift(25, 175.1, 25, 0, 0.2, 1, "good"),
        Lift(25, 75, 175.1, 0, 0.2, 1, "good"),
        Lift(25, 75, 25, 135.1, 0.2, 1, "good"),
        Lift(25, 75, 25, 0, 15.1, 1, "good"),
    ],
    ids=["too far out", "too high", "too long a way", "too much twist", "too often"],
)
def test_beyond_a_limit_nothing_may_be_lifted(lift: Lift) -> None:
    assert recommended_weight_limit(lift) == 0


COLUMNS = ((1, False), (1, True), (2, False), (2, True), (8, False), (8, True))
TABLE_5 = {
    0.1: (1.00, 1.00, 0.95, 0.95, 0.85, 0.85),
    0.2: (1.00, 1.00, 0.95, 0.95, 0.85, 0.85),
    0.5: (0.97, 0.97, 0.92, 0.92, 0.81, 0.81),
    1: (0.94, 0.94, 0.88, 0.88, 0.75, 0.75),
    2: (0.91, 0.91, 0.84, 0.84, 0.65, 0.65),
    3: (0.88, 0.88, 0.79, 0.79, 0.55, 0.55),
    4: (0.84, 0.84, 0.72, 0.72, 0.45, 0.45),
    5: (0.80, 0.80, 0.60, 0.60, 0.35, 0.35),
    6: (0.75, 0.75, 0.50, 0.50, 0.27, 0.27),
    7: (0.70, 0.70, 0.42, 0.42, 0.22, 0.22),
    8: (0.60, 0.60, 0.35, 0.35, 0.18, 0.18),
    9: (0.52, 0.52, 0.30, 0.30, 0, 0.15),
    10: (0.45, 0.45, 0.26, 0.26, 0, 0.13),
    11: (0.41, 0.41, 0, 0.23, 0, 0),
    12: (0.37, 0.37, 0, 0.21, 0, 0),
    13: (0, 0.34, 0, 0, 0, 0),
    14: (0, 0.31, 0, 0, 0, 0),
    15: (0, 0.28, 0, 0, 0, 0),
    15.1: (0, 0, 0, 0, 0, 0),
}


@pytest.mark.parametrize("per_minute", TABLE_5)
def test_table_5_every_cell_of_the_frequency_multiplier(per_minute: float) -> None:
    found = tuple(frequency_multiplier(per_minute, hours, high=high) for hours, high in COLUMNS)

    assert found == TABLE_5[per_minute]


@pytest.mark.parametrize(("hours", "like"), [(0.5, 1), (1.1, 2), (2.1, 8), (2.5, 8), (3, 8)])
def test_table_5_work_of_between_hours_stands_under_the_longer(hours: float, like: float) -> None:
    for high in (True, False):
        assert frequency_multiplier(5, hours, high=high) == frequency_multiplier(5, like, high=high)


def test_table_5_is_linear_between_its_rows() -> None:
    assert frequency_multiplier(2.5, 1, high=True) == pytest.approx(0.895)


def test_more_than_eight_hours_lies_outside_the_method() -> None:
    with pytest.raises(ValueError, match="8 h"):
        frequency_multiplier(1, 8.1, high=True)
