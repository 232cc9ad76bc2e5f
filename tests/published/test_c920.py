"""ASTM C920, movement class: per cent of the joint's width that it may open and close."""

import pytest

from fitcheck.rules.joints import class_limits

MM = 10**6


@pytest.mark.parametrize(
    ("width", "movement_class", "least", "most"),
    [
        (8, "25", 6, 10),
        (8, "50", 4, 12),
        (10, "12.5", 8.75, 11.25),
        (10, "35", 6.5, 13.5),
        (10, "100/50", 5, 20),
    ],
)
def test_class_limits(width: int, movement_class: str, least: float, most: float) -> None:
    limits = class_limits(width * MM, movement_class)

    assert (limits.least_nm, limits.most_nm) == (round(least * MM), round(most * MM))


def test_limits_are_rounded_inwards() -> None:
    limits = class_limits(3, "25")

    assert (limits.least_nm, limits.most_nm) == (3, 3)


def test_a_class_that_does_not_exist_is_refused() -> None:
    with pytest.raises(KeyError):
        class_limits(8 * MM, "30")
