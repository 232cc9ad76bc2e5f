"""Does the drawing of a panel cut to size say what the rules worked out, draft until it is signed?"""

import re
from typing import Any

import pytest

from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.model import Dimension
from fitcheck.drawings.order import DRAFT, Order, Release, order_of
from fitcheck.drawings.order_front import svg_order_front
from fitcheck.drawings.pane import pane_drawing, svg_pane
from fitcheck.rules.pane_geometry import apart_nm
from fitcheck.rules.strict import InputErrors
from tests.fitcheck.drawings.openings import outside, overlaps, said
from tests.fitcheck.rules.test_panel_order import HANDLE, HINGE, asked

NOBODY = Release("D-0001", "Asker One")
SIGNED = Release("D-0001", "Asker One", "Signer Two", "2026-11-02 09:00")


def many_holes() -> dict[str, Any]:
    holes = [
        {**HANDLE, "name": f"hole {i}", "across": f"{2 + i % 4} in", "up": f"{4 + 3 * i} in"}
        for i in range(20)
    ]
    notches = [HINGE, {**HINGE, "name": "clamp", "edge": "head"}]
    return asked(panels=[{"name": "fixed"}, {"name": "door", "holes": holes, "notches": notches}])


def narrow() -> dict[str, Any]:
    opening = {
        **asked()["opening"],
        "right_foot": place("260 mm"),
        "right_head": place("250 mm", "1900 mm"),
    }
    return asked(opening=opening, dividers=[], panels=[{"name": "slip", "holes": [HANDLE]}])


def wide() -> dict[str, Any]:
    opening = {
        **asked()["opening"],
        "right_foot": place("3600 mm"),
        "right_head": place("3610 mm", "600 mm"),
    }
    opening["left_head"] = place("0 mm", "600 mm")
    low = {**HANDLE, "up": "10 in"}
    return asked(opening=opening, dividers=[], panels=[{"name": "low screen", "holes": [low]}])


def place(right: str, up: str = "0 mm") -> dict[str, str]:
    return {"right": right, "up": up}


@pytest.fixture
def order() -> Order:
    return order_of(asked())


@pytest.mark.parametrize("question", [asked, many_holes, narrow, wide])
@pytest.mark.parametrize("unit", ["inch", "mm"])
def test_words_stay_apart_and_on_the_paper(question: Any, unit: str) -> None:
    order = order_of(question())
    for index in range(len(order.panes)):
        svg = svg_pane(order, index, NOBODY, unit)

        assert overlaps(svg) == []
        assert outside(svg) == []
    front = svg_order_front(order, NOBODY, unit)
    assert (overlaps(front), outside(front)) == ([], [])


def test_until_somebody_signs_the_drawing_itself_says_draft(order: Order) -> None:
    draft, signed = svg_pane(order, 1, NOBODY), svg_pane(order, 1, SIGNED)

    assert DRAFT in said(draft)
    assert DRAFT not in said(signed)
    assert "For the fabricator. Signed by Signer Two, 2026-11-02 09:00" in said(signed)
    assert DRAFT in said(svg_order_front(order, NOBODY))


def test_every_dimension_measures_what_it_says(order: Order) -> None:
    for index, pane in enumerate(order.panes):
        drawing = pane_drawing(order, index, NOBODY)
        dims = [s for _, s in drawing.shapes() if isinstance(s, Dimension)]

        assert dims
        for dim in dims:
            dx, dy = dim.b.x - dim.a.x, dim.b.y - dim.a.y
            drawn = {"level": abs(dx), "plumb": abs(dy)}.get(dim.along, (dx**2 + dy**2) ** 0.5)
            assert drawn == pytest.approx(dim.value_nm, abs=2)  # both ends are whole nanometres
            told = length_nm(re.sub("^(up|right) ", "", dim.label[-1]))
            assert told is not None
            assert 0 <= dim.value_nm - told < 10_000  # rounded down to a hundredth of a millimetre
        edges = {apart_nm(*pane.outline.edge(name)) for name in ("foot", "right", "head", "left")}
        assert edges <= {dim.value_nm for dim in dims}


def test_holes_notches_mass_and_area_are_the_rules_own(order: Order) -> None:
    told = said(svg_pane(order, 1, NOBODY))

    assert "1 handle: hole Ø 1/2 in · 12.7 mm; right 3 in · 76.2 mm, up 40 in · 1016 mm." in told
    assert "2 hinge: notch 2 1/2 in · 63.5 mm long, 1 1/2 in · 38.1 mm deep" in told
    assert "area 1.299 m2 net; glass 32.5 kg, with hardware 34.0 kg" in told
    assert "The rules say of the whole order: fits." in told
    assert "Nothing is cut, drilled or edged after tempering" in told


def test_every_gap_has_its_name_and_measure(order: Order) -> None:
    told = said(svg_order_front(order, NOBODY, "mm"))

    for gap in ("left 6 mm", "right 6 mm", "head 6 mm", "foot 10 mm", "joints 9 mm"):
        assert gap in told


def test_a_question_that_makes_no_sense_is_refused_with_its_mistakes() -> None:
    with pytest.raises(InputErrors):
        order_of(asked(thickness="9 mm"))


def test_hostile_names_stay_words() -> None:
    order = order_of(asked(dividers=[], panels=[{"name": "<script>&%%d^J\n\\P{x}"}]))

    assert "<script" not in svg_pane(order, 0, NOBODY)
