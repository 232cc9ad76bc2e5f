"""Does the picture of a bar tell every part, where it lies, and what is left?"""

import re
from typing import Any

from fitcheck.drawings.bars import svg_bars
from fitcheck.rules.saw_order import answer

ASKED: dict[str, Any] = {
    "pieces": [
        {"job": "J-0001", "part": "head rail", "length": "59 9/16 in", "count": 1},
        {"job": "J-0002", "part": "head <rail>", "length": "22 in", "count": 1},
    ],
    "stock": [{"name": "bar", "length": "144 in"}],
}


def drawn(**changes: Any) -> str:
    told: Any = answer({**ASKED, **changes})
    bars = [{**bar, "number": n, "profile": "rail"} for n, bar in enumerate(told["bars"], 1)]
    return svg_bars(bars)


def test_every_part_is_named_with_both_units_and_its_place() -> None:
    svg = drawn()
    assert "59 9/16 in · 1512.8875 mm" in svg
    assert "from 6.35 mm to 1519.2375 mm" in svg
    assert "head &lt;rail&gt;" in svg
    assert re.search(r"<desc>Bar 1, rail, 144 in", svg)


def test_parts_lie_in_order_and_inside_their_bar() -> None:
    boxes = [
        (float(x), float(w))
        for x, w in re.findall(r'<rect x="([\d.]+)" y="21" width="([\d.]+)"', drawn())
    ]
    bar, first, second = boxes[0], boxes[3], boxes[4]
    assert bar[0] < first[0] < first[0] + first[1] < second[0]
    assert second[0] + second[1] < bar[0] + bar[1]


def test_an_offcut_worth_keeping_is_told_from_waste() -> None:
    assert "to the rack" in drawn()
    assert "too short for the rack" in drawn(saw={"least_useful": "100 in"})


def test_no_bar_is_said_in_words() -> None:
    assert "No bar is sawn." in svg_bars([])
