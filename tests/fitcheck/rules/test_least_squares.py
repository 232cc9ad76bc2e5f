"""What the adjustment says of readings that cannot check each other, and of those that can."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.chi_square import chi_square_limit, chi_square_tail
from fitcheck.rules.least_squares import (
    Fit,
    checkable,
    correlation,
    detectable,
    fit,
    gain,
    information,
    left_over,
    likeness,
    mistakes_estimated,
    redundancies,
    rivals,
    shown,
    standardised,
    worst_reading,
)

ONE = np.ones((1, 1))


def same(values: list[float], sigmas: list[float] | None = None) -> Fit:
    """Readings of one and the same length."""
    read = np.array(values)
    return fit(np.ones((len(read), 1)), read, np.array(sigmas or [1.0] * len(read)))


def test_one_reading_of_one_length_is_taken_as_it_is_and_checks_nothing() -> None:
    found = same([1500.0])

    assert found.solution == pytest.approx([1500])
    assert found.freedom == 0
    assert redundancies(found) == pytest.approx([0])
    assert not checkable(found).any()
    assert detectable(found) == [np.inf]
    assert list(standardised(found)) == list(mistakes_estimated(found)) == [0.0]


def test_readings_are_weighed_by_the_square_of_their_uncertainty() -> None:
    found = same([10.0, 20.0], [1.0, 2.0])

    assert found.solution == pytest.approx([12.0])
    assert found.covariance == pytest.approx(np.array([[0.8]]))
    assert redundancies(found) == pytest.approx([0.2, 0.8])


def test_two_readings_of_one_length_cannot_say_which_is_wrong() -> None:
    found = same([10.0, 40.0])

    assert worst_reading(found) in (0, 1)
    assert rivals(found, 0) == (1,)
    assert rivals(found, 1) == (0,)
    assert correlation(found, 0, 1) == pytest.approx(-1)
    assert abs(standardised(found)) == pytest.approx([30 / np.sqrt(2)] * 2)


def test_three_readings_of_one_length_can() -> None:
    found = same([10.0, 10.5, 40.0])

    assert worst_reading(found) == 2
    assert rivals(found, 2) == ()
    assert correlation(found, 0, 1) == pytest.approx(-0.5)
    assert mistakes_estimated(found)[2] == pytest.approx(40 - 10.25)


def test_a_reading_with_no_redundancy_is_no_rival_and_has_no_correlation() -> None:
    design = np.array([[1.0, 0], [1, 0], [1, 0], [0, 1]])
    found = fit(design, np.array([10.0, 10, 40, 7]), np.ones(4))

    assert checkable(found).tolist() == [True, True, True, False]
    assert correlation(found, 2, 3) == 0
    assert rivals(found, 2) == ()


def test_an_unknown_that_nothing_determines_is_told_and_left_at_zero() -> None:
    found = fit(np.array([[1.0, 1, 0]]), np.array([8.0]), np.ones(1))

    assert found.rank == 1
    assert found.solution == pytest.approx([4, 4, 0])
    assert found.seen @ np.array([1.0, 1, 0]) == pytest.approx([1, 1, 0])
    assert found.seen @ np.array([0, 0, 1.0]) == pytest.approx([0, 0, 0])


def test_taking_a_mistake_off_leaves_what_a_second_adjustment_would() -> None:
    read, off = np.array([10.0, 10.5, 40.0]), np.array([0.0, 0.0, 29.0])

    assert left_over(same(list(read)), off) == pytest.approx(left_over(same(list(read - off))))


def test_taking_the_worst_reading_out_lowers_the_sum_by_its_square() -> None:
    found = same([10.0, 10.5, 12.0, 40.0], [1, 2, 1, 1.5])

    without = same([10.0, 10.5, 12.0], [1, 2, 1])

    drop = standardised(found)[3] ** 2
    assert left_over(found) - left_over(without) == pytest.approx(drop)


@pytest.mark.parametrize("sigma", [0.0, -1.0])
def test_a_reading_without_uncertainty_is_refused(sigma: float) -> None:
    with pytest.raises(ValueError, match="uncertainty above zero"):
        fit(ONE, np.array([1.0]), np.array([sigma]))


def test_no_readings_are_refused() -> None:
    with pytest.raises(ValueError, match="needs readings"):
        fit(np.zeros((0, 1)), np.zeros(0), np.zeros(0))


def test_with_no_freedom_nothing_can_disagree() -> None:
    assert chi_square_tail(9.0, 0) == 1.0


@pytest.mark.parametrize(("value", "freedom"), [(-0.1, 2), (1.0, -1)])
def test_a_tail_of_less_than_nothing_is_refused(value: float, freedom: int) -> None:
    with pytest.raises(ValueError, match="less than zero"):
        chi_square_tail(value, freedom)


@pytest.mark.parametrize(("alpha", "freedom"), [(0.0, 3), (1.0, 3), (0.05, 0)])
def test_a_limit_without_alpha_or_freedom_is_refused(alpha: float, freedom: int) -> None:
    with pytest.raises(ValueError, match="a limit needs"):
        chi_square_limit(alpha, freedom)


@given(value=st.floats(0, 60), freedom=st.integers(1, 12))
def test_a_larger_sum_is_never_likelier_and_more_freedom_never_less(
    value: float, freedom: int
) -> None:
    here = chi_square_tail(value, freedom)

    assert 0 <= chi_square_tail(value + 1, freedom) <= here <= 1
    assert here <= chi_square_tail(value, freedom + 1) + 1e-12


@given(st.lists(st.floats(-100, 100), min_size=2, max_size=8))
def test_redundancies_add_up_to_the_degrees_of_freedom(values: list[float]) -> None:
    found = same(values, [1 + n for n in range(len(values))])

    assert sum(redundancies(found)) == pytest.approx(found.freedom)


def lines(values: list[float]) -> Fit:
    """Readings of a line at 0, 1, 2 and 3, each as sure as said."""
    design = np.array([[1.0, 0.0], [1.0, 1.0], [1.0, 2.0], [1.0, 3.0]])
    return fit(design, np.array(values), np.array([1.0, 2.0, 1.5, 0.5]))


def test_a_supposed_mistake_in_one_reading_is_weighed_as_snooping_weighs_it() -> None:
    adjusted = lines([0.0, 3.0, 2.0, 3.5])

    for n, one in enumerate(np.eye(4)):
        told = redundancies(adjusted)[n] / adjusted.sigmas[n] ** 2
        assert information(adjusted, one) == pytest.approx(told)
        assert gain(adjusted, one) == pytest.approx(standardised(adjusted)[n] ** 2)
        for m, other in enumerate(np.eye(4)):
            if n != m:
                assert likeness(adjusted, one, other) == pytest.approx(correlation(adjusted, n, m))


def test_a_supposed_mistake_in_several_readings_gains_what_its_best_size_takes_away() -> None:
    adjusted, error = lines([0.0, 3.0, 2.0, 3.5]), np.array([1.0, 0.0, 1.0, 0.0])
    left = [left_over(adjusted, size * error) for size in np.linspace(-5, 5, 20001)]

    assert gain(adjusted, error) == pytest.approx(left_over(adjusted) - min(left), abs=1e-6)
    assert gain(adjusted, 7 * error) == pytest.approx(gain(adjusted, error))


def test_a_mistake_that_every_reading_shares_does_not_show() -> None:
    adjusted, error = same([0.0, 1.0, 5.0]), np.ones(3)

    assert not shown(adjusted, error)
    assert gain(adjusted, error) == 0.0
    assert likeness(adjusted, error, np.array([1.0, 0.0, 0.0])) == 0.0
    assert shown(adjusted, np.array([1.0, 1.0, 0.0]))
    assert likeness(
        adjusted, np.array([1.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0])
    ) == pytest.approx(-1.0)
