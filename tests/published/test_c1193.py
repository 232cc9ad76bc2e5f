"""ASTM C1193, joint geometry as a web page restates it: depth w/2, 6 to 13 mm; joint 6 mm."""

import pytest

from fitcheck.rules.joints import joint_depth

MM = 10**6


@pytest.mark.parametrize(("width", "depth"), [(6, 6), (12, 6), (19, 9.5), (26, 13), (32, 13)])
def test_depth_of_a_joint(width: int, depth: float) -> None:
    """The page prints 19 -> 9 in whole millimetres; half of 19 is 9.5."""
    found = joint_depth(width * MM)

    assert found is not None
    assert found.least_nm == found.most_nm == round(depth * MM)


def test_a_joint_under_6_mm_is_too_narrow() -> None:
    assert joint_depth(6 * MM - 1) is None
