"""Do the words of every drawing stay apart and on the paper in a real browser, with its own face?"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from fitcheck.check import check
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.hole_map import svg_hole_map
from fitcheck.drawings.order import order_of
from fitcheck.drawings.order_front import svg_order_front
from fitcheck.drawings.pane import svg_pane
from fitcheck.drawings.way_in import steps_of, svg_way_in
from fitcheck.rules.shape_report import answer
from tests.fitcheck.drawings.openings import extremes, twenty_holes
from tests.fitcheck.drawings.test_pane import NOBODY, many_holes, narrow, wide
from tests.fitcheck.drawings.test_readable import DRAWINGS
from tests.fitcheck.drawings.test_way_in import PANEL, WAY
from tests.fitcheck.rules.test_panel_order import asked

DATA = Path(__file__).parents[1] / "fitcheck" / "data"
# Every text's own box, its line's spare height taken off; then pairs that overlap, and strays.
LOOK = """() => {
  const svg = document.querySelector('svg'), paper = svg.viewBox.baseVal, bad = []
  const boxes = [...svg.querySelectorAll('text')].map(one => {
    const box = one.getBBox()
    return [one.textContent, box.x, box.y + box.height * 0.22,
            box.x + box.width, box.y + box.height * 0.82]
  })
  boxes.forEach((a, i) => {
    if (a[1] < -0.5 || a[3] > paper.width + 0.5 || a[4] > paper.height) bad.push(['outside', a[0]])
    for (const b of boxes.slice(i + 1))
      if (a[1] < b[3] - 1 && b[1] < a[3] - 1 && a[2] < b[4] - 1 && b[2] < a[4] - 1)
        bad.push([a[0], b[0]])
  })
  return [boxes.length, bad]
}"""


def pictures() -> Iterator[tuple[str, str]]:
    """Every kind of drawing, ordinary and extreme."""
    inputs = json.loads((DATA / "inputs_bypass.json").read_text())
    verdict = check(inputs).as_json()
    hinged = json.loads((DATA / "inputs_hinged.json").read_text())
    for name, draw in DRAWINGS.items():
        for case, read in extremes(inputs).items():
            yield f"{name}, {case}", draw(read, {} if case == "no opening" else verdict)
        yield f"{name}, hinged", draw(hinged, check(hinged).as_json())
    shape = answer({"readings": inputs["readings"], "heights": ["0 in", "36 in", "73 in"]})
    yield "adjusted", svg_elevation(inputs, {**verdict, "shape": shape})
    yield "twenty holes", svg_hole_map(inputs, twenty_holes(verdict), "left_wall")
    yield "way in", svg_way_in(PANEL, steps_of(PANEL, WAY))
    for question in (asked, many_holes, narrow, wide):
        order = order_of(question())
        for unit in ("inch", "mm"):
            yield f"front, {unit}", svg_order_front(order, NOBODY, unit)
            for index, pane in enumerate(order.panes):
                yield f"{pane.name}, {unit}", svg_pane(order, index, NOBODY, unit)


def test_words_stay_apart_and_on_the_paper(chromium: Any) -> None:
    page = chromium.new_page()
    seen = 0
    for name, svg in pictures():
        page.set_content(svg)
        count, bad = page.evaluate(LOOK)
        assert bad == [], name
        seen += count
    page.close()
    assert seen > 1500
