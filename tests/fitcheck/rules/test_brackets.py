"""Pull and shear of bracket screws: what is refused, and what turning or sharing must not change.

The values worked out by hand and by a frame program stand in `tests/published/test_bracket_statics.py`.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.brackets import (
    Hinges,
    group_shears,
    heel_tension,
    hinge_couple,
    row_tensions,
)


@pytest.mark.parametrize(("lever", "height"), [(1.0, 0.0), (1.0, -1.0), (-0.1, 1.0)])
def test_a_bracket_without_height_or_with_a_lever_inward_is_refused(
    lever: float, height: float
) -> None:
    with pytest.raises(ValueError, match="heel"):
        heel_tension(45, lever, height)


@pytest.mark.parametrize("rows", [(), ((0, 1.0),), ((2, 0.0),), ((2, 1.0), (2, -1.0))])
def test_a_plate_without_screws_above_its_edge_is_refused(
    rows: tuple[tuple[int, float], ...],
) -> None:
    with pytest.raises(ValueError, match="row"):
        row_tensions(120, rows)


def test_the_offset_of_the_hinge_line_adds_to_the_lever() -> None:
    assert hinge_couple(Hinges(86, 30, 2.0, 60)) == pytest.approx(86 * 17 / 60)


def test_hinges_at_one_place_are_refused() -> None:
    with pytest.raises(ValueError, match="apart"):
        hinge_couple(Hinges(86, 30, 0, 0))


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
