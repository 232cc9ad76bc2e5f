"""Teams, bad numbers and what more weight or distance may never do."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.lifting import (
    Hold,
    LiftTask,
    lift_limits,
    lifting_index,
    team_for,
    tenth_text,
)

CLOSE = Hold(30, 75)


@pytest.mark.parametrize(
    ("load", "each", "convention", "people"),
    [
        (33.3, 25, "hse_l23", 2),
        (33.4, 25, "hse_l23", 3),
        (37.5, 25, "hse_l23", 3),
        (37.6, 25, "hse_l23", None),
        (42.5, 25, "iso_11228_1", 2),
        (42.6, 25, "iso_11228_1", None),
        (1, 0, "iso_11228_1", None),
        (1, 25, "iso_11228_1", 2),
    ],
)
def test_the_smallest_team_by_each_convention(
    load: float, each: float, convention: str, people: int | None
) -> None:
    assert team_for(load, each, convention) == people


def test_where_nothing_may_be_lifted_the_index_is_infinite() -> None:
    assert lifting_index(10, 0) == math.inf
    assert lifting_index(10, 20) == 0.5


@pytest.mark.parametrize(
    "task",
    [
        LiftTask(Hold(-1, 75), CLOSE, 1, 1, "good", control=True),
        LiftTask(Hold(30, -1), CLOSE, 1, 1, "good", control=True),
        LiftTask(Hold(30, 75, -1), CLOSE, 1, 1, "good", control=True),
        LiftTask(CLOSE, Hold(math.nan, 75), 1, 1, "good", control=True),
        LiftTask(CLOSE, CLOSE, math.inf, 1, "good", control=True),
        LiftTask(CLOSE, CLOSE, 1, -1, "good", control=True),
    ],
)
def test_a_number_that_makes_no_sense_is_refused(task: LiftTask) -> None:
    with pytest.raises(ValueError, match="zero or more"):
        lift_limits(task)


@given(st.floats(0, 70), st.floats(0, 180), st.floats(0, 180), st.floats(0, 20))
def test_reaching_farther_never_allows_more(
    out: float, low: float, high: float, farther: float
) -> None:
    near = LiftTask(Hold(out, low), Hold(out, high), 1, 1, "fair", control=True)
    far = LiftTask(Hold(out + farther, low), Hold(out, high), 1, 1, "fair", control=True)

    assert lift_limits(far).governing <= lift_limits(near).governing + 1e-12


def test_limits_are_printed_rounded_down() -> None:
    task = LiftTask(Hold(40, 75), Hold(50, 75, 45), 0.2, 1, "poor", control=True)

    assert lift_limits(task).as_json() == {
        "origin": "12.9 kg",
        "destination": "8.8 kg",
        "governing": "8.8 kg",
        "governed_by": "destination",
    }
    assert tenth_text(12.3) == "12.3 kg"
    assert tenth_text(0) == "0.0 kg"
