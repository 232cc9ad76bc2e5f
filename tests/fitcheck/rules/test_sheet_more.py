"""Are the optional parts of a sheet read strictly, and is a sheet that contradicts itself refused?"""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import InputErrors, sheet_parse

KITS = Path(__file__).resolve().parents[3] / "fitcheck/kits/demo"
Body = dict[str, Any]


def newest(slug: str) -> Body:
    kit = json.loads((KITS / f"{slug}.json").read_text(encoding="utf-8"))
    body: Body = copy.deepcopy(kit["sheets"][-1]["body"])
    return body


@pytest.fixture
def slider() -> Body:
    return newest("brindlefenn-drabbletine")


def refused(body: Body) -> dict[str, str]:
    with pytest.raises(InputErrors) as wrong:
        sheet_parse(body)
    return {error.pointer: error.code for error in wrong.value.errors}


def test_every_optional_part_is_read(slider: Body) -> None:
    sheet = sheet_parse(slider)
    bracket = sheet.fixings[0].bracket

    assert bracket
    assert (bracket.bears, bracket.top_row, bracket.setback) != ("load", 1, None)
    assert sheet.rail
    assert sheet.rail.alloy == "6063-T6"
    assert sheet.glazing
    assert sheet.glazing.edition == "en12150"
    assert sheet.sliding
    assert sheet.sliding.tracks_apart.entered == "34 mm"
    assert sheet.sealant_product
    assert len(sheet.sealant_product.rows) == 2
    assert {cut.part: cut.kerf is not None for cut in sheet.cuts} == {
        "head rail": True,
        "threshold strip": False,
    }
    assert {panel.handle for panel in sheet.panels} == {"shower_head", "opposite"}


def test_a_sheet_without_them_is_a_sheet_still(slider: Body) -> None:
    for name in ("rail", "glazing", "sliding", "sealant_product"):
        del slider[name]
    for fixing in slider["fixings"]:
        fixing.pop("bracket", None)

    sheet = sheet_parse(slider)

    assert (sheet.rail, sheet.glazing, sheet.walls) == (None, None, ("left", "right"))


def without_rail(body: Body) -> None:
    del body["rail"]


def without_glazing(body: Body) -> None:
    del body["glazing"]


def stranger_on_the_rail(body: Body) -> None:
    body["rail"]["hangs"] = ["middle"]


def rollers_wider_than_a_panel(body: Body) -> None:
    body["rail"]["roller_spacing"] = "900 mm"


def solid_tube(body: Body) -> None:
    body["rail"]["wall"] = "40 mm"


def more_screws_above_than_at_all(body: Body) -> None:
    body["fixings"][0]["bracket"]["top_row"] = 7


def hinge_on_a_rail_bracket(body: Body) -> None:
    hinge = {"panel": "inner", "centres": "900 mm", "offset": "10 mm"}
    body["fixings"][0]["bracket"]["hinge"] = hinge


def load_without_a_load(body: Body) -> None:
    body["fixings"][1]["bracket"] = {**body["fixings"][0]["bracket"], "bears": "load", "top_row": 1}


def bare_number(body: Body) -> None:
    body["sliding"]["tracks_apart"] = 34


def misspelt_edition(body: Body) -> None:
    body["glazing"]["edition"] = "en12151"


def hours_without_a_depth(body: Body) -> None:
    body["sealant_product"]["rows"][0] = {
        "least_celsius": "5",
        "least_humidity": "30",
        "hours": "24",
    }


def unknown_wall(body: Body) -> None:
    body["walls"] = ["back"]


@pytest.mark.parametrize(
    ("spoil", "pointer", "code"),
    [
        (without_rail, "/rail", "missing"),
        (without_glazing, "/glazing", "missing"),
        (stranger_on_the_rail, "/rail", "panel_unknown"),
        (rollers_wider_than_a_panel, "/rail", "rollers_too_wide"),
        (solid_tube, "/rail/wall", "not_in_range"),
        (more_screws_above_than_at_all, "/fixings/0/bracket", "not_in_range"),
        (hinge_on_a_rail_bracket, "/fixings/0/bracket/hinge", "hinge_needed"),
        (load_without_a_load, "/fixings/1/bracket", "load_needed"),
        (bare_number, "/sliding/tracks_apart", "length_without_unit"),
        (misspelt_edition, "/glazing/edition", "not_a_choice"),
        (hours_without_a_depth, "/sealant_product/rows/0/up_to", "missing"),
        (unknown_wall, "/walls/0", "not_a_choice"),
    ],
)
def test_a_mistake_is_told_at_its_place(slider: Body, spoil: Any, pointer: str, code: str) -> None:
    spoil(slider)

    assert refused(slider).get(pointer) == code, refused(slider)


def test_a_hinge_names_a_panel_of_the_sheet() -> None:
    body = newest("pellandrake-quorrel")
    body["fixings"][0]["bracket"]["hinge"]["panel"] = "gate"

    assert refused(body) == {"/fixings": "panel_unknown"}
