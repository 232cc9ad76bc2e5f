"""ACI 318-19, 17.8: pull and shear of an anchor at once.

The worked numbers stand in a maker's design guide to anchoring by ACI 318-19 (October 2025, table 40), which
was read; the standard itself was not. "Straight" is the cautious reading of a report that names no line.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.anchor_together import TOGETHER, anchor_used

SHARES = st.floats(0, 3)


def test_the_guides_worked_example() -> None:
    """0.422 + 0.149 = 0.571 < 1.2, and 0.422^(5/3) + 0.149^(5/3) = 0.237 + 0.042 = 0.279."""
    assert anchor_used("straight", 0.422, 0.149) == pytest.approx(0.571)
    assert anchor_used("power", 0.422, 0.149) ** (5 / 3) == pytest.approx(0.279, abs=0.0006)


@pytest.mark.parametrize(
    ("pull", "shear", "used"),
    [
        (0.95, 0.2, 0.95),  # 17.8.2: up to a fifth is left out
        (0.2, 0.7, 0.7),
        (0.9, 0.21, 1.11 / 1.2),  # 17.8.3
        (0.6, 0.6, 1.0),
        (0.99, 0.21, 1.0),
        (1.1, 0.25, 1.35 / 1.2),
        (1.1, 0.0, 1.1),
    ],
)
def test_the_three_straight_pieces(pull: float, shear: float, used: float) -> None:
    assert anchor_used("trilinear", pull, shear) == pytest.approx(used)


@given(pull=SHARES, shear=SHARES, more=st.floats(0, 1))
def test_more_load_never_uses_less_and_the_straight_line_is_the_cautious_one(
    pull: float, shear: float, more: float
) -> None:
    for line in TOGETHER:
        used = anchor_used(line, pull, shear)
        assert anchor_used(line, pull + more, shear) >= used - 1e-12
        assert anchor_used(line, pull, shear + more) >= used - 1e-12
        assert max(pull, shear) - 1e-12 <= used <= anchor_used("straight", pull, shear) + 1e-12


@pytest.mark.parametrize("shares", [(-0.1, 0.5), (0.5, -0.1)])
def test_a_share_below_zero_is_an_error(shares: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="less than zero"):
        anchor_used("straight", *shares)


def test_a_line_that_nobody_knows_is_an_error() -> None:
    with pytest.raises(ValueError, match="ellipse"):
        anchor_used("ellipse", 0.1, 0.1)
