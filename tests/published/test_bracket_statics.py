"""Statics of brackets and hinges, no document: each value was worked out twice, by closed form and by
a frame program. Prying by a soft wall adds the stack to the lever; no figure for slamming was found,
so the factor is a setting.
"""

import pytest

from fitcheck.rules.brackets import (
    Hinges,
    group_shears,
    heel_tension,
    hinge_couple,
    row_tensions,
    stack_lever,
)
from fitcheck.rules.demand import Bracket, hinge_cases
from fitcheck.rules.glass_demand import hinge_share

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


def test_two_rows_get_6_and_18_and_not_15_each() -> None:
    assert row_tensions(120, ((2, 1.0), (2, 3.0))) == pytest.approx((6.0, 18.0))


@pytest.mark.parametrize(
    ("weight", "width", "centres", "couple"), [(68, 28, 56, 17.0), (86, 30, 60, 21.5)]
)
def test_the_top_hinge_pulls(weight: float, width: float, centres: float, couple: float) -> None:
    assert hinge_couple(Hinges(weight, width, 0.0, centres)) == pytest.approx(couple)


def test_86_pounds_on_three_screws_a_hinge() -> None:
    """7.17 pull a screw; 14.3 shear when two hinges share the weight, 28.7 when one has it all."""
    door = Hinges(86, 30, 0.0, 60)
    leaf = Bracket(0.0, 2.0, 3, 3, 3_175_000, "steel")

    shut, opened = hinge_cases(door, leaf, 0, 1.0)
    _, shared, alone = hinge_share(86, 30, 0.0, 60)

    assert shut.pull_lbf == pytest.approx(7.17, abs=HUNDREDTH)
    assert shut.shear_lbf == alone / 3 == pytest.approx(28.7, abs=0.05)
    assert shared / 3 == pytest.approx(14.3, abs=0.05)
    assert opened.pull_lbf == 0
    assert opened.shear_lbf == pytest.approx((86**2 + 21.5**2) ** 0.5 / 3)


def test_an_eccentric_group_of_four() -> None:
    found = group_shears((0, -80), (3.0, 1.0), ((0, 0), (0, 2), (1, 0), (1, 2)))

    assert found == pytest.approx((40.0, 40.0, 56.57, 56.57), abs=HUNDREDTH)


def test_an_eccentric_pair() -> None:
    found = group_shears((0, -68), (2.25, 1.5), ((0, 0), (0, 3)))

    assert found == pytest.approx((61.29, 61.29), abs=HUNDREDTH)
