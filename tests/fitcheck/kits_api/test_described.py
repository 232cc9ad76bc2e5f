"""Does the description of a rule sheet name just the members that the rules know, and fit the demo sheets?"""

import json
from pathlib import Path

from fitcheck.kits.shapes import (
    SheetAnchorSerializer,
    SheetBodySerializer,
    SheetReportSerializer,
)
from fitcheck.rules.sheet_anchor_read import ANCHOR
from fitcheck.rules.sheet_parse import SHEET

DEMO = Path(__file__).resolve().parents[3] / "fitcheck" / "kits" / "demo"


def test_the_description_names_just_the_members_that_the_rules_know() -> None:
    assert set(SheetBodySerializer().fields) == set(SHEET)
    assert set(SheetAnchorSerializer().fields) == set(ANCHOR)
    assert set(SheetReportSerializer().fields) == {"number", "edition", "page"}


def test_every_demo_sheet_is_as_described() -> None:
    bodies = [
        sheet["body"]
        for path in sorted(DEMO.glob("*.json"))
        for sheet in json.loads(path.read_text(encoding="utf-8"))["sheets"]
    ]
    assert len(bodies) > 10
    assert any("anchors" in body for body in bodies)
    for body in bodies:
        told = SheetBodySerializer(data=body)
        assert told.is_valid(), told.errors
