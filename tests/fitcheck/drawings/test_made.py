"""Do a verdict's pictures show glass made to measure as it is cut, and name the handle's side once?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.drawings.elevation import elevation
from fitcheck.drawings.handing import handing
from fitcheck.drawings.made import made_names, made_pictures
from fitcheck.drawings.model import Circle, Text
from fitcheck.drawings.model import Path as Outline
from fitcheck.drawings.order import Release
from fitcheck.rules import RULES_VERSION

KEPT = Path(__file__).parents[2] / "kept" / "verdicts" / RULES_VERSION


def kept(name: str) -> tuple[Any, Any]:
    told = json.loads((KEPT / f"{name}.json").read_text(encoding="utf-8"))
    return told["inputs"], told["result"]


def test_the_handing_draws_each_outline_and_hole_where_it_is() -> None:
    inputs, verdict = kept("made_glass_fits")
    drawn = handing(inputs, verdict)
    shapes = [shape for _, shape in drawn.shapes()]
    panels = verdict["made_glass"]["panels"]

    outlines = [one for one in shapes if isinstance(one, Outline) and one.layer == "glass"]
    for outline, panel in zip(outlines, panels, strict=True):
        xs, ys = [at.x for at in outline.points], [at.y for at in outline.points]
        assert (min(xs), min(ys)) == (0, 0)
        head = float(panel["edges"]["head"]["mm"].removesuffix(" mm"))
        assert abs(xs[2] - xs[3]) / 1e6 == pytest.approx(head, abs=1e-5)
    holes = [one for one in shapes if isinstance(one, Circle) and one.layer == "holes"]
    assert len(holes) == sum(len(panel["holes"]) for panel in panels)
    assert drawn.desc.count("handle holes: left") == 1  # the sheet's words on clips name no handle
    assert drawn.desc.count("handle holes: none") == 1


def test_the_elevation_says_that_its_sizes_are_boxes_or_that_nothing_is_cut() -> None:
    boxes, nothing = (
        " ".join(one.words for _, one in elevation(*kept(name)).shapes() if isinstance(one, Text))
        for name in ("made_glass_fits", "made_glass_little_read")
    )

    assert "smallest upright box" in boxes
    assert "none is cut" in nothing


def test_a_verdict_that_cuts_nothing_has_no_picture_of_glass() -> None:
    _, cut = kept("made_glass_fits")
    _, waits = kept("made_glass_little_read")

    assert list(made_pictures(cut, "inch", Release())) == ["glass", "glass-1", "glass-2"]
    assert set(made_pictures(cut, "inch", Release())) <= set(made_names())
    assert made_pictures(waits, "inch", Release()) == {}
