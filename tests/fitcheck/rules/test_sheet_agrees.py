"""Is every member of a sheet that is pushed to a value which cannot be right named at its place?"""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.rules.sheet_agrees import contradictions, sheet_to_write
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.sheet_said import SAID
from fitcheck.rules.strict import InputErrors

ROOT = Path(__file__).resolve().parents[3]
SHEETS = {
    f"{path.stem}:{sheet['version']}": sheet["body"]
    for path in sorted((ROOT / "fitcheck/kits/demo").glob("*.json"))
    for sheet in json.loads(path.read_text(encoding="utf-8"))["sheets"]
}
NEWEST = {name.partition(":")[0]: body for name, body in SHEETS.items()}
SLIDER, SINGLE, METRIC = "osquith-tillybeck", "nimmelow-ossiewend", "brindlefenn-drabbletine"
PLAIN, HINGED, MADE = "harrowtick-lowmantle", "pellandrake-gullimot", "corvelune-thrissaway"
SCREEN, DECK = "osquith-sandruffle", "vellumbrook-fennimule"
GONE = object()

Body = dict[str, Any]


def put(body: Body, pointer: str, value: Any) -> None:
    """Set, or take away, the member at a JSON Pointer; `-` at its end appends to a list."""
    *way, last = pointer.split("/")[1:]
    inner: Any = body
    for step in way:
        inner = inner[int(step)] if isinstance(inner, list) else inner[step]
    if last == "-":
        inner.append(value)
    elif value is GONE:
        del inner[int(last) if isinstance(inner, list) else last]
    else:
        inner[int(last) if isinstance(inner, list) else last] = value


def pushed(kit: str, changes: dict[str, Any]) -> Body:
    body = copy.deepcopy(NEWEST[kit])
    for pointer, value in changes.items():
        put(body, pointer, value)
    return body


def at(body: Body, pointer: str) -> Any:
    inner: Any = body
    for step in pointer.split("/")[1:]:
        inner = inner[int(step)] if isinstance(inner, list) else inner[step]
    return inner


def again(kit: str, pointer: str, **changes: Any) -> Any:
    """A row of a sheet once more, changed."""
    return copy.deepcopy(at(NEWEST[kit], pointer)) | changes


# kit, what is changed, and the kind of contradiction; it is named at the first member changed.
PUSHED: list[tuple[str, dict[str, Any], str]] = [
    (SLIDER, {"/sizes/1/windows/1/height": "0 in"}, "window_twice"),
    (SLIDER, {"/sizes/0/windows/1/least": "47 1/2 in", "/sizes/0/windows/0/most": "44 in"},
     "windows_apart"),
    (SLIDER, {"/sizes/0/windows/1/height": "80 in"}, "above_the_ceiling"),
    (SLIDER, {"/rail_height": "78 in"}, "above_the_ceiling"),
    (SLIDER, {"/rail_height": "60 in"}, "rail_elsewhere"),
    (PLAIN, {"/rail_height": "50 in"}, "rail_elsewhere"),
    (SLIDER, {"/ceiling_height/least": "60 in"}, "above_the_ceiling"),
    (SLIDER, {"/surround_height/least": "80 in"}, "above_the_ceiling"),
    (SLIDER, {"/lean/over": "80 in"}, "above_the_ceiling"),
    (SLIDER, {"/lean/most": "72 in"}, "lean_too_far"),
    (SLIDER, {"/width_difference/most": "44 in"}, "wider_than_opening"),
    (SLIDER, {"/level/most": "44 in"}, "wider_than_opening"),
    (SLIDER, {"/sill_fall/most": "4 in"}, "fall_too_far"),
    (SLIDER, {"/sill_fall/least": "-4 in"}, "fall_too_far"),
    (SLIDER, {"/curb/flat_least": "4 in"}, "flat_past_depth"),
    (SLIDER, {"/curb/depth_least": "2 in"}, "flat_past_depth"),
    (SLIDER, {"/backing/0/height": "76 in"}, "above_the_ceiling"),
    (SLIDER, {"/backing/0/setback_least": "4 in"}, "off_the_curb"),
    (SLIDER, {"/backing/0/setback_least": "3 7/8 in", "/curb/depth_least": "4 in"},
     "off_its_backing"),
    (SLIDER, {"/backing/0/setback_most": "2 1/4 in"}, "beyond_its_backing"),
    (SLIDER, {"/fixings/0/bracket/setback": "1 in"}, "off_its_backing"),
    (SLIDER, {"/fixings/0/bracket/setback": "3 7/8 in"}, "off_the_curb"),
    (SLIDER, {"/backing/-": again(SLIDER, "/backing/0", setback_least="1 in")}, "backing_twice"),
    (SLIDER, {"/cuts/2/deduct": "100 in"}, "nothing_left"),
    (SLIDER, {"/cuts/2/deduct": "20 in"}, "never_long_enough"),
    (SLIDER, {"/cuts/2/brackets_take": "80 in"}, "nothing_left"),
    (SLIDER, {"/cuts/2/brackets_take": "20 in"}, "never_long_enough"),
    (SLIDER, {"/cuts/3/deduct": "60 in", "/cuts/3/least": None}, "nothing_left"),
    (SLIDER, {"/cuts/2/least": "59 in"}, "never_long_enough"),
    (SLIDER, {"/cuts/2/least": "60 1/2 in", "/cuts/2/most": None}, "longer_than_stock"),
    (SLIDER, {"/cuts/2/most": "70 in"}, "longer_than_stock"),
    (SLIDER, {"/cuts/2/most": "54 1/4 in"}, "never_short_enough"),
    (SLIDER, {"/cuts/2/stock": "50 in"}, "longer_than_stock"),
    (PLAIN, {"/cuts/0/stock": "53 1/4 in"}, "never_short_enough"),
    (SLIDER, {"/cuts/2/from": "width"}, "take_without_brackets"),
    (SLIDER, {"/cuts/3/brackets_take": "1 in"}, "take_without_brackets"),
    (SLIDER, {"/cuts/0/height": "10 in"}, "rail_elsewhere"),
    (SLIDER, {"/cuts/1/height": "78 in"}, "above_the_ceiling"),
    (SLIDER, {"/cuts/2/allowance": "20 in"}, "cover_too_wide"),
    (SLIDER, {"/cuts/2/kerf": "20 in"}, "kerf_too_wide"),
    (SLIDER, {"/cuts/-": again(SLIDER, "/cuts/2", deduct="1/2 in")}, "part_twice"),
    (SLIDER, {"/cuts/0/sizes": ["47", "58"]}, "part_twice"),
    (PLAIN, {"/cuts/1/part": "head rail"}, "part_twice"),
    (SLIDER, {"/fixings/0/height": "40 in"}, "rail_elsewhere"),
    (PLAIN, {"/fixings/0/height": "40 in"}, "brackets_elsewhere"),
    (SLIDER, {"/fixings/1/heights/2": "90 in"}, "above_the_ceiling"),
    (SLIDER, {"/fixings/1/heights/2": "4 in"}, "height_twice"),
    (SLIDER, {"/fixings/0/must_reach": "finish", "/fixings/0/load": None}, "bears_on_finish"),
    (HINGED, {"/fixings/0/must_reach": "finish", "/fixings/0/load": None}, "bears_on_finish"),
    (PLAIN, {"/fixings/0/must_reach": "finish"}, "load_on_finish"),
    (SLIDER, {"/fixings/1/load": "40 N"}, "load_on_finish"),
    (SCREEN, {"/fixings/1/load": "0 N"}, "load_of_nothing"),
    (SLIDER, {"/fixings/0/surface": "sill"}, "rail_on_sill"),
    (SLIDER, {"/fixings/1/surface": "sill"}, "above_its_sill"),
    (SLIDER, {"/fixings/0/screw/length": "3/16 in"}, "screw_too_short"),
    (SLIDER, {"/fixings/0/bracket/thickness": "3 in"}, "screw_too_short"),
    (SLIDER, {"/fixings/-": again(SLIDER, "/fixings/0")}, "place_twice"),
    (HINGED, {"/fixings/0/bracket/hinge/centres": "120 in"}, "hinges_past_panel"),
    (HINGED, {"/fixings/0/bracket/hinge/centres": "57 in"}, "hinges_elsewhere"),
    (HINGED, {"/fixings/0/heights/1": "60 in"}, "hinges_elsewhere"),
    (HINGED, {"/panels/0/height": "50 in"}, "hinges_past_panel"),
    (HINGED, {"/panels/1/height": "60 in"}, "hinges_above_panel"),
    (HINGED, {"/fixings/0/bracket/hinge/offset": "30 in"}, "hinge_off_panel"),
    (SLIDER, {"/panels/2/width": "70 in"}, "panel_too_wide"),
    (SLIDER, {"/panels/2/width": "20 in", "/panels/3/width": "20 in"}, "panels_too_narrow"),
    (METRIC, {"/panels/2/width": "640 mm"}, "panels_never_overlap"),
    (SLIDER, {"/panels/2/height": "74 in", "/rail_height": "69 in"}, "panel_past_rail"),
    (SLIDER, {"/panels/2/height": "90 in"}, "above_the_ceiling"),
    (SLIDER, {"/rail/clear_below": "6 in"}, "panel_drags"),
    (SLIDER, {"/panels/2/thickness": "71 in"}, "panel_too_thick"),
    (SLIDER, {"/panels/3/name": "inner"}, "panel_twice"),
    (SLIDER, {"/panels/0/sizes": ["47", "58"]}, "panel_twice"),
    (SLIDER, {"/sizes/0/panels": ["inner"]}, "panel_of_other_sizes"),
    (METRIC, {"/sliding/tracks_apart": "8 mm"}, "tracks_too_near"),
    (METRIC, {"/sliding/overlap_least": "800 mm"}, "overlap_past_panel"),
    (METRIC, {"/sliding/overlap_least": "160 mm"}, "panels_never_overlap"),
    (METRIC, {"/kind": "fixed_screen"}, "nothing_slides"),
    (METRIC, {"/sliding/tracks_apart": "92 mm"}, "tracks_off_the_curb"),
    (SLIDER, {"/sizes/1/windows/1/most": "66 in"}, "panels_too_narrow"),
    (SCREEN, {"/panels/0/width": "84 in"}, "panel_too_wide"),
    (SLIDER, {"/fixings/0/bracket/reach": "22 in"}, "reaches_too_far"),
    (SLIDER, {"/fixings/0/bracket/screw_height": "13 in"}, "bracket_too_large"),
    (SINGLE, {"/fixings/0/bracket/spacing": "13 in"}, "bracket_too_large"),
    (SLIDER, {"/rail/height": "13 in"}, "rail_too_high"),
    (SLIDER, {"/sealant/0/bead": "2 in"}, "bead_too_wide"),
    (SCREEN, {"/fixings/1/height": "40 in"}, "backing_elsewhere"),
    (SCREEN, {"/backing/0/height": "40 in"}, "backing_elsewhere"),
    (MADE, {"/backing/1/height": "60 in"}, "backing_elsewhere"),
    (SINGLE, {"/anchors/0/length": "2 in"}, "anchor_too_short"),
    (SINGLE, {"/anchors/0/embedment": "2 1/2 in"}, "anchor_too_short"),
    (SINGLE, {"/anchors/0/stack_most": "2 in"}, "anchor_too_short"),
    (SINGLE, {"/anchors/0/spacing": "1/4 in"}, "anchor_rims_meet"),
    (SINGLE, {"/anchors/0/edge": "1/8 in"}, "anchor_rims_meet"),
    (SINGLE, {"/anchors/0/diameter": "3 in"}, "anchor_rims_meet"),
    (SINGLE, {"/anchors/0/bit": "1 in"}, "anchor_bit"),
    (SINGLE, {"/anchors/0/bit": "1/16 in"}, "anchor_bit"),
    (SINGLE, {"/substrates/structures": ["wood_stud", "block"]}, "anchor_base_not_allowed"),
    (SINGLE, {"/anchors/-": again(SINGLE, "/anchors/0")}, "anchor_twice"),
    (MADE, {"/made_glass/top": "80 in"}, "above_the_ceiling"),
    (MADE, {"/made_glass/top": "7/8 in"}, "glass_too_low"),
    (MADE, {"/made_glass/top": "50 in"}, "hinges_past_panel"),
    (MADE, {"/made_glass/gaps/head": "76 in"}, "glass_too_low"),
    (MADE, {"/made_glass/gaps/foot": "76 in"}, "glass_too_low"),
    (MADE, {"/made_glass/gaps/left": "44 in"}, "glass_too_narrow"),
    (MADE, {"/made_glass/gaps/right": "44 in"}, "glass_too_narrow"),
    (MADE, {"/made_glass/gaps/between": "44 in"}, "glass_too_narrow"),
    (MADE, {"/made_glass/panels/1/width": "44 in"}, "glass_too_narrow"),
    (MADE, {"/made_glass/panels/1/least": "28 in"}, "panel_past_its_limits"),
    (MADE, {"/made_glass/panels/1/most": "27 in"}, "panel_past_its_limits"),
    (MADE, {"/made_glass/panels/0/least": "43 in", "/made_glass/panels/0/most": None},
     "panel_never_so_wide"),
    (MADE, {"/made_glass/panels/0/most": "15 in"}, "panel_never_so_wide"),
    (MADE, {"/made_glass/panels/0/holes/0/diameter": "5 in"}, "hole_past_edge"),
    (MADE, {"/made_glass/panels/0/holes/0/across": "45 in"}, "hole_past_panel"),
    (MADE, {"/made_glass/panels/0/holes/0/up": "75 in"}, "hole_past_panel"),
    (MADE, {"/made_glass/panels/1/holes/0/across": "1/4 in"}, "hole_past_edge"),
    (MADE, {"/made_glass/panels/1/holes/0/up": "1/4 in"}, "hole_past_edge"),
    (MADE, {"/made_glass/panels/1/notches/0/start": "75 in"}, "notch_past_panel"),
    (MADE, {"/made_glass/panels/1/notches/0/length": "70 in"}, "notch_past_panel"),
    (MADE, {"/made_glass/panels/1/notches/0/depth": "28 in"}, "notch_past_panel"),
    (MADE, {"/made_glass/panels/1/notches/0/radius": "1 1/4 in"}, "notch_radius"),
    (MADE, {"/made_glass/panels/1/notches/0/edge": "head", "/made_glass/panels/1/notches/0/start":
            "26 in"}, "notch_past_panel"),
]  # fmt: skip


@pytest.mark.parametrize("name", SHEETS)
def test_the_demo_sheets_agree_with_themselves(name: str) -> None:
    assert contradictions(sheet_parse(SHEETS[name])) == ()


@pytest.mark.parametrize(
    ("kit", "changes", "code"),
    PUSHED,
    ids=[f"{code}-{next(iter(changes))}" for _, changes, code in PUSHED],
)
def test_a_member_pushed_too_far_is_named_at_its_place(
    kit: str, changes: dict[str, Any], code: str
) -> None:
    body = pushed(kit, changes)
    found = [one for one in contradictions(sheet_parse(body)) if one.code == code]

    member = next(iter(changes)).replace("/-", "/")
    named = [one for one in found for pointer in one.pointers if pointer.startswith(member)]
    assert named, [(one.code, one.pointers) for one in contradictions(sheet_parse(body))]
    assert all(one.page and "None" not in one.detail for one in found)
    with pytest.raises(InputErrors) as refused:
        sheet_to_write(body)
    told = [one for one in refused.value.errors if one.code == code]
    assert [one.detail for one in told] == [one.detail for one in found]
    for one in told:
        others = one.hint.partition("See also ")[2].removesuffix(".").split(", ")
        for pointer in filter(None, [one.pointer, *others]):
            assert at(body, pointer) is not None


@pytest.mark.parametrize("member", ["deduct", "brackets_take"])
def test_what_takes_most_off_a_part_is_named_first(member: str) -> None:
    body = pushed(SLIDER, {f"/cuts/2/{member}": "80 in"})
    (found,) = contradictions(sheet_parse(body))
    assert found.pointer == f"/cuts/2/{member}"


def test_every_kind_of_contradiction_is_pushed_to() -> None:
    assert {code for _, _, code in PUSHED} == set(SAID)
