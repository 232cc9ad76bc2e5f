"""Pull and shear of bracket screws: hand calculations, each found twice (closed form, frame)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.brackets import (
    Hinges,
    group_shears,
    heel_tension,
    hinge_couple,
    row_tensions,
    stack_lever,
)

HUNDREDTH = 0.01


@pytest.mark.parametrize(
    ("load", "lever", "height", "pull"),
    [(45, 1.5, 2.0, 33.75), (60, 2.25, 1.5, 90.0), (90, 0.75, 1.25, 54.0), (45, 0, 2, 0)],
)
def test_a_bracket_pivots_on_its_heel(
    load: float, lever: float, height: float, pull: float
) -> None:
    assert heel_tension(load, lever, height) == pytest.approx(pull, abs=HUNDREDTH)


def test_a_stack_of_an_inch_doubles_the_pull_of_a_bracket_of_an_inch() -> None:
    assert heel_tension(45, stack_lever(1.0, 1.0), 2.0) == pytest.approx(45.0)
    assert heel_tension(45, stack_lever(1.0, 0.0), 2.0) == pytest.approx(22.5)


@pytest.mark.parametrize(("lever", "height"), [(1.0, 0.0), (1.0, -1.0), (-0.1, 1.0)])
def test_a_bracket_without_height_or_with_a_lever_inward_is_refused(
    lever: float, height: float
) -> None:
    with pytest.raises(ValueError, match="heel"):
        heel_tension(45, lever, height)


def test_two_rows_do_not_share_equally() -> None:
    assert row_tensions(120, ((2, 1.0), (2, 3.0))) == pytest.approx((6.0, 18.0))


@pytest.mark.parametrize("rows", [(), ((0, 1.0),), ((2, 0.0),), ((2, 1.0), (2, -1.0))])
def test_a_plate_without_screws_above_its_edge_is_refused(
    rows: tuple[tuple[int, float], ...],
) -> None:
    with pytest.raises(ValueError, match="row"):
        row_tensions(120, rows)


@pytest.mark.parametrize(
    ("weight", "width", "centres", "couple"), [(68, 28, 56, 17.0), (86, 30, 60, 21.5)]
)
def test_the_top_hinge_pulls(weight: float, width: float, centres: float, couple: float) -> None:
    assert hinge_couple(Hinges(weight, width, 0.0, centres)) == pytest.approx(couple)


def test_the_offset_of_the_hinge_line_adds_to_the_lever() -> None:
    assert hinge_couple(Hinges(86, 30, 2.0, 60)) == pytest.approx(86 * 17 / 60)


def test_hinges_at_one_place_are_refused() -> None:
    with pytest.raises(ValueError, match="apart"):
        hinge_couple(Hinges(86, 30, 0, 0))


def test_an_eccentric_group_of_four() -> None:
    found = group_shears((0, -80), (3.0, 1.0), ((0, 0), (0, 2), (1, 0), (1, 2)))

    assert found == pytest.approx((40.0, 40.0, 56.57, 56.57), abs=HUNDREDTH)


def test_an_eccentric_pair() -> None:
    found = group_shears((0, -68), (2.25, 1.5), ((0, 0), (0, 3)))

    assert found == pytest.approx((61.29, 61.29), abs=HUNDREDTH)


def test_a_load_through_the_middle_is_shared_equally() -> None:
    assert group_shears((30, -40), (0.5, 0.5), ((0, 0), (1, 1))) == pytest.approx((25.0, 25.0))
    assert group_shears((30, -40), (2.0, 5.0), ((2, 5),)) == pytest.approx((50.0,))


def test_one_screw_cannot_hold_a_twist_and_no_screw_holds_nothing() -> None:
    with pytest.raises(ValueError, match="one point"):
        group_shears((0, -80), (3.0, 0.0), ((0, 0),))
    with pytest.raises(ValueError, match="at least one"):
        group_shears((0, -80), (3.0, 0.0), ())


small = st.floats(-50, 50, allow_nan=False)


@given(small, small, small, small)
def test_a_sideways_load_twists_like_a_downward_one_turned(
    across: float, down: float, x: float, y: float
) -> None:
    """Turning load and screws together by a right angle changes no resultant."""
    screws = ((0.0, 0.0), (0.0, 2.0), (3.0, 1.0))

    straight = group_shears((across, down), (x, y), screws)
    turned = group_shears((-down, across), (-y, x), tuple((-b, a) for a, b in screws))

    assert turned == pytest.approx(straight, abs=1e-9)
