"""Is a notch drawn rounded where it is inside the glass, and sharp where it lies on an edge?"""

from typing import Any

import pytest

from fitcheck.drawings.model import Path
from fitcheck.drawings.order import Order, Release, order_of
from fitcheck.drawings.pane import pane_drawing
from tests.fitcheck.rules.test_panel_order import HINGE
from tests.fitcheck.rules.test_panel_rounding import leaning

MM = 10**6


def drawn(**notch: Any) -> Path:
    row = {**HINGE, "length": "50 mm", "depth": "50 mm", "radius": "20 mm", **notch}
    order: Order = order_of(
        {**leaning("0 mm", "0 mm", "1000 mm"), "panels": [{"name": "screen", "notches": [row]}]}
    )
    drawing = pane_drawing(order, 0, Release())
    (path,) = (s for _, s in drawing.shapes() if isinstance(s, Path) and s.layer == "notches")
    return path


@pytest.mark.parametrize(
    ("start", "places"),
    [
        # From the foot of the right edge up 300 to 350, 50 deep: both inner corners rounded by 20.
        ("300 mm", [(1000, 300), (1000, 350), (970, 350), (950, 330), (950, 320), (970, 300)]),
        # In the corner of foot and right edge: one is rounded, the other lies on the foot.
        ("0 mm", [(1000, 0), (1000, 50), (970, 50), (950, 30), (950, 0)]),
        ("1950 mm", [(1000, 1950), (1000, 2000), (950, 2000), (950, 1970), (970, 1950)]),
    ],
)
def test_inner_corners_are_rounded(start: str, places: list[tuple[int, int]]) -> None:
    path = drawn(start=start)

    assert [(at.x // MM, at.y // MM) for at in path.points] == places
    assert sum(bulge > 0 for bulge in path.bulges) == (2 if start == "300 mm" else 1)


def test_in_a_corner_the_radius_may_be_as_long_as_the_notch() -> None:
    path = drawn(start="0 mm", radius="50 mm")

    assert [(at.x // MM, at.y // MM) for at in path.points] == [
        *((1000, 0), (1000, 50)),
        *((1000, 50), (950, 0)),  # one arc from the edge to the foot
        (950, 0),
    ]
