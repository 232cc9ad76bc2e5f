"""DHHS (NIOSH) Publication 94-110, revised 9/2021: lifts judged at both of their ends.

Read through a page-by-page transcription; loads, and inputs of example 1, are from memory. The
examples print rounded multipliers: limits 2 %, indices 0.1.
"""

import pytest

from fitcheck.rules.handling import team_capability_kg
from fitcheck.rules.lifting import (
    Hold,
    LiftTask,
    duration_hours,
    horizontal_estimated,
    lift_limits,
    lifting_index,
)

PRINTED = 0.02
EXAMPLE_4 = LiftTask(Hold(10, 22), Hold(20, 59), 3, 1, "fair", control=True)
EXAMPLE_1 = LiftTask(Hold(23, 15), Hold(23, 63), 0.1, 1, "fair", control=True)


def test_example_4_package_inspection_is_judged_at_its_end() -> None:
    limits = lift_limits(EXAMPLE_4, "us")

    assert limits.origin == pytest.approx(34.9, rel=PRINTED)
    assert limits.origin == pytest.approx(34.81, abs=0.005)
    assert limits.destination == pytest.approx(15.2, rel=PRINTED)
    assert limits.destination == pytest.approx(15.25, abs=0.005)
    assert limits.governing == limits.destination
    assert limits.governed_by == "destination"


def test_example_1_punch_press_stock_from_memory() -> None:
    limits = lift_limits(EXAMPLE_1, "us")

    assert limits.origin == pytest.approx(16.3, rel=PRINTED)
    assert limits.destination == pytest.approx(14.5, rel=PRINTED)


@pytest.mark.parametrize(
    ("load", "limit", "printed"),
    [(26, 34.9, 0.7), (26, 15.2, 1.7), (44, 16.3, 2.7), (44, 14.5, 3.0)],
)
def test_lifting_indices_of_the_examples_with_loads_from_memory(
    load: float, limit: float, printed: float
) -> None:
    assert lifting_index(load, limit) == pytest.approx(printed, abs=0.1)


def test_table_1_prints_rounded_values_where_the_formula_governs() -> None:
    """Printed Table 1 has .46 at 22 in and .44 at 23 in; the formula gives .4545 and .4348."""
    for inches, formula in ((22, 10 / 22), (23, 10 / 23)):
        still = LiftTask(Hold(inches, 30), Hold(inches, 30), 0.2, 1, "good", control=False)
        assert lift_limits(still, "us").origin / 51 == pytest.approx(formula)


def test_table_3_prints_86_at_130_cm_where_the_formula_gives_85() -> None:
    task = LiftTask(Hold(25, 10), Hold(25, 140), 0.2, 1, "good", control=False)
    level = LiftTask(Hold(25, 10), Hold(25, 10), 0.2, 1, "good", control=False)

    ratio = lift_limits(task).origin / lift_limits(level).origin

    assert ratio == pytest.approx(0.82 + 4.5 / 130)
    assert round(ratio, 2) == 0.85


def test_the_frequency_multiplier_goes_by_the_origin_even_at_the_destination() -> None:
    """At 9 lifts a minute for 8 h the table has 0 for low lifts and 0.15 for high ones."""
    up = LiftTask(Hold(25, 60), Hold(25, 100), 9, 8, "good", control=True)
    down = LiftTask(Hold(25, 100), Hold(25, 60), 9, 8, "good", control=True)

    assert lift_limits(up).destination == 0
    assert lift_limits(down).destination > 0


def test_the_coupling_multiplier_goes_by_the_end_that_is_judged() -> None:
    fair = LiftTask(Hold(25, 50), Hold(25, 100), 0.2, 1, "fair", control=True)
    good = LiftTask(Hold(25, 50), Hold(25, 100), 0.2, 1, "good", control=True)

    assert lift_limits(fair).origin / lift_limits(good).origin == pytest.approx(0.95)
    assert lift_limits(fair).destination == lift_limits(good).destination


def test_without_control_at_the_end_the_origin_governs() -> None:
    loose = LiftTask(Hold(10, 22), Hold(20, 59), 3, 1, "fair", control=False)

    limits = lift_limits(loose, "us")

    assert limits.governing == limits.origin
    assert limits.governed_by == "origin"


def test_with_control_the_lower_end_governs_whichever_it_is() -> None:
    toward = LiftTask(Hold(50, 75), Hold(25, 75), 0.2, 1, "good", control=True)

    limits = lift_limits(toward)

    assert limits.destination > limits.origin == limits.governing
    assert limits.governed_by == "origin"


@pytest.mark.parametrize(
    ("depth", "vertical", "units", "expected"),
    [
        (40, 25, "metric", 40),
        (40, 24.9, "metric", 45),
        (16, 10, "us", 16),
        (16, 9.9, "us", 18),
    ],
)
def test_an_unmeasured_distance_is_estimated(
    depth: float, vertical: float, units: str, expected: float
) -> None:
    assert horizontal_estimated(depth, vertical, units) == expected  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("work", "rest", "hours"),
    [
        (60, 60, 1),
        (60, 59, 2),
        (61, 61, 2),
        (30, 30, 1),
        (30, 29, 2),
        (120, 36, 2),
        (120, 35, 8),
        (121, 400, 8),
        (480, 0, 8),
        (0, 0, 1),
    ],
)
def test_short_work_needs_as_much_rest_as_work_since_2021(
    work: float, rest: float, hours: int
) -> None:
    """1994 said 1.2 times the work; the 0.3 of moderate work is from memory."""
    assert duration_hours(work, rest) == hours


@pytest.mark.parametrize(("work", "rest"), [(480.1, 0), (-1, 0), (10, -1)])
def test_more_than_eight_hours_or_less_than_nothing_is_refused(work: float, rest: float) -> None:
    with pytest.raises(ValueError, match="480 min"):
        duration_hours(work, rest)


def test_a_pair_and_a_34_kg_panel_by_both_conventions_computed() -> None:
    """RWL 12.94 kg each: 1.56 with the factor 0.85 (from memory), 1.99 with two thirds."""
    still = LiftTask(Hold(40, 75), Hold(40, 75), 0.2, 1, "poor", control=True)
    each = lift_limits(still).governing

    assert each == pytest.approx(12.94, abs=0.005)
    for convention, index in (("iso_11228_1", 1.56), ("hse_l23", 1.99)):
        team = team_capability_kg(2, each, convention)
        assert lifting_index(34.32, team) == pytest.approx(index, abs=0.005)
