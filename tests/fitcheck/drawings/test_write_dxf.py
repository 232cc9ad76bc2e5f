"""Is the fabricator's file, read back by the library, the panel that the rules worked out?"""

import subprocess
import sys
from io import StringIO
from typing import Any

import pytest

from fitcheck.drawings.elevation import elevation
from fitcheck.drawings.model import Dimension
from fitcheck.drawings.order import DRAFT, Release, order_of
from fitcheck.drawings.order_front import order_front
from fitcheck.drawings.pane import pane_drawing
from fitcheck.drawings.write_dxf import dxf_write
from fitcheck.rules.pane_geometry import twice_area
from tests.fitcheck.rules.test_panel_order import asked

NOBODY = Release("D-0001", "Asker One")
NEAR = 1e-6  # mm: a nanometre


def read(data: bytes) -> Any:
    import ezdxf

    document = ezdxf.read(StringIO(data.decode("utf-8")))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    return document


def on(document: Any, layer: str, kind: str) -> list[Any]:
    return list(document.modelspace().query(f'{kind}[layer=="{layer}"]'))


def area(points: list[Any]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def test_outline_holes_and_notches_lie_on_their_layers_at_the_models_places() -> None:
    order = order_of(asked())
    pane = order.panes[1]
    document = read(dxf_write([pane_drawing(order, 1, NOBODY)]))
    foot = pane.outline.left_foot

    (outline,) = on(document, "PANEL_OUTLINE", "LWPOLYLINE")
    assert outline.closed
    corners = [tuple(p) for p in outline.get_points("xy")]
    for drawn, corner in zip(corners, pane.outline.corners, strict=True):
        assert drawn == pytest.approx(
            ((corner.x - foot.x) / 1e6, (corner.y - foot.y) / 1e6), abs=NEAR
        )
    assert area(corners) == pytest.approx(twice_area(pane.outline.corners) / 2 / 1e12, rel=1e-9)

    (circle,) = on(document, "HOLES", "CIRCLE")
    centre = pane.holes[0].centre
    assert circle.dxf.center.x == pytest.approx((centre.x - foot.x) / 1e6, abs=NEAR)
    assert circle.dxf.center.y == pytest.approx((centre.y - foot.y) / 1e6, abs=NEAR)
    assert circle.dxf.radius * 2 == pytest.approx(12.7)

    (notch,) = on(document, "NOTCHES", "LWPOLYLINE")
    points = notch.get_points("xyb")
    bent = [b for _, _, b in points if b]
    assert bent == pytest.approx([0.41421356, 0.41421356])  # a quarter of a circle each
    # Each rounded corner leaves r2 (1 - pi/4) of the notch's rectangle as glass.
    left = 9.525**2 * (1 - 3.141592653589793 / 4)
    chords = area([(x, y) for x, y, _ in points])
    segments = 2 * 9.525**2 * (3.141592653589793 / 4 - 0.5)
    assert chords + segments == pytest.approx(63.5 * 38.1 - 2 * left, abs=1e-3)


def test_every_dimension_measures_the_models_value_and_says_both_units() -> None:
    order = order_of(asked())
    drawings = [pane_drawing(order, i, NOBODY) for i in range(2)]
    document = read(dxf_write(drawings))

    drawn = sorted(d.get_measurement() for d in document.modelspace().query("DIMENSION"))
    wanted = sorted(
        s.value_nm / 1e6 for one in drawings for _, s in one.shapes() if isinstance(s, Dimension)
    )
    assert len(wanted) >= 12
    assert drawn == pytest.approx(wanted, abs=2 * NEAR)
    for dim in document.modelspace().query("DIMENSION"):
        assert " in\\P" in dim.dxf.text  # a new line
        assert dim.dxf.text.endswith(" mm")
        assert dim.dxf.layer == "DIMENSIONS"


def test_the_file_is_in_millimetres_says_draft_and_is_the_same_every_time() -> None:
    order = order_of(asked())
    drawings = [order_front(order, NOBODY), *(pane_drawing(order, i, NOBODY) for i in range(2))]
    data = dxf_write(drawings)
    document = read(data)

    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    assert {t.dxf.text for t in on(document, "DRAFT_STATE", "TEXT")} == {DRAFT}
    assert data == dxf_write(drawings)


def test_an_elevation_with_enlarged_leans_is_refused_and_a_true_one_written(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    with pytest.raises(ValueError, match="not to scale"):
        dxf_write([elevation(inputs, verdict)])

    document = read(dxf_write([elevation(inputs, verdict, true=True)]))
    drawn = sorted(d.get_measurement() for d in document.modelspace().query("DIMENSION"))
    # 56 3/16 and 56 7/32, then 56 1/4 twice, then 56 5/16 in and 1430 mm: their means, by hand.
    assert drawn == pytest.approx([1427.559375, 1428.75, 1430.16875], abs=2 * NEAR)


def test_words_cannot_break_the_file() -> None:
    order = order_of(asked(dividers=[], panels=[{"name": "x\n0\nEOF\n%%d^J\\P{y}\u202e😀"}]))
    document = read(dxf_write([pane_drawing(order, 0, NOBODY)]))

    words = " ".join(t.dxf.text for t in document.modelspace().query("TEXT"))
    assert "x 0 EOF % %d^ J" in words


def test_the_web_process_does_not_load_the_library() -> None:
    code = (
        "import sys, fitcheck.drawings.write_dxf, fitcheck.drawings.pane; "
        "print('ezdxf' in sys.modules, 'numpy' in sys.modules)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert told.stdout.split() == ["False", "False"]
