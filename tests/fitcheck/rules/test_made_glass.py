"""Is glass made to measure cut to the opening that was read, and to no other?

Expected: worked by hand from a true trapezoid, with the gaps of the sheet; 2500 kg/m3 (EN 572-1).
"""

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.check import InputErrors, check, depth, sheet_parse
from fitcheck.rules.length import length_parse
from fitcheck.rules.panel_order import answer

KIT = Path(__file__).resolve().parents[3] / "fitcheck/kits/demo/corvelune-thrissaway.json"
BODY = json.loads(KIT.read_text(encoding="utf-8"))["sheets"][-1]["body"]
LASER = {"kind": "laser", "accuracy_class": "none", "graduation": "1 mm", "hook": False}
Json = dict[str, Any]

# 1500 mm at the sill; the left wall 8 mm in and the right 4 mm in at 2 m; the right end 3 mm up.
TRUE = (
    ("width", "none", "0 mm", None, "1500 mm"),
    ("width", "none", "1000 mm", None, "1494 mm"),
    ("width", "none", "2000 mm", None, "1488 mm"),
    ("lean", "left", None, "2000 mm", "8 mm"),
    ("lean", "right", None, "2000 mm", "4 mm"),
    ("sill_level", "none", None, None, "3 mm"),
    ("ceiling_height", "left", None, None, "2400 mm"),
    ("ceiling_height", "right", None, None, "2397 mm"),
)
GLASS = {
    "thickness": "10 mm",
    "gaps": {"left": "8 mm", "right": "9 mm", "head": "10 mm", "foot": "10 mm", "between": "8 mm"},
    "top": "1900 mm",
    "panels": [
        {"name": "fixed", "order": 1, "page": "4"},
        {
            "name": "door",
            "width": "700 mm",
            "order": 2,
            "page": "4",
            "handle": "opposite",
            "hardware_mass": "2 kg",
            "holes": [
                {
                    "name": "handle",
                    "from": "handle",
                    "across": "70 mm",
                    "up_from": "foot",
                    "up": "1000 mm",
                    "diameter": "20 mm",
                }
            ],
        },
    ],
    "page": "4",
}


def asked(
    *, without: str = "", change: dict[str, str] | None = None, head: str = "right", **glass: Any
) -> Json:
    """A case of the true opening; readings left out or changed by `quantity side height`."""
    rows = []
    for number, (quantity, side, height, over, value) in enumerate(TRUE):
        name = " ".join(filter(None, (quantity, side, height)))
        if not without or not name.startswith(without):
            place = {"quantity": quantity, "side": side, "height": height, "over": over}
            told = (change or {}).get(name, value)
            who = {"tool": LASER, "read_by": "A", "taken_at": "2026-10-05T09:01:00-04:00"}
            rows.append({"id": f"r{number}", **place, "value": told, **who})
    opening = {"enclosure": "alcove", "stands_on": "curb", "shower_head_side": head}
    sheet = {**BODY, "made_glass": {**copy.deepcopy(GLASS), **glass}}
    return {"opening": opening, "readings": rows, "zones": [], "sheet": sheet}


def verdict(**how: Any) -> Json:
    return check(asked(**how)).as_json()


def mm(value: Json) -> float:
    return float(value["mm"].removesuffix(" mm"))


def places(panel: Json) -> list[tuple[float, float]]:
    return [(mm(one["right"]), mm(one["up"])) for one in panel["corners"]]


def found(told: Json, rule: str) -> Json:
    return next(one for one in told["findings"] if one["rule"] == rule)


def test_the_panels_are_the_opening_less_its_gaps() -> None:
    fixed, door = verdict()["made_glass"]["panels"]

    # Along the foot 1500 less 8, 9 and 8 leaves 1475; the door has 700 of it, the fixed panel 775.
    assert mm(fixed["edges"]["foot"]) == pytest.approx(775, abs=0.1)
    assert mm(door["edges"]["foot"]) == pytest.approx(700, abs=0.05)
    # Over 1890 mm, from 10 over the sill to 1900, the left wall comes in by 8 x 1890 / 2000 = 7.56.
    assert mm(fixed["tapers"]["left"]) == pytest.approx(7.56, abs=0.02)
    assert mm(fixed["tapers"]["right"]) == 0
    assert mm(door["tapers"]["right"]) == pytest.approx(-3.78, abs=0.02)
    # The head is level at 1900; the foot follows the sill, 3 mm in 1500, so 1.55 under the fixed one.
    assert mm(fixed["tapers"]["head"]) == 0
    assert mm(fixed["tapers"]["foot"]) == pytest.approx(3 * 775 / 1500, abs=0.02)
    assert places(fixed)[3] == pytest.approx((7.56, 1890), abs=0.05)


def test_the_mass_is_that_of_the_outline_less_its_hole() -> None:
    told = verdict()
    fixed, door = told["panels"]

    # Means of foot and head by the height of the middle: (775 + 767.4) / 2 by 1889.2; 10 mm; 2500 kg/m3.
    assert fixed["glass_mass"] == f"{0.7712 * 1.8892 * 0.01 * 2500 + 0.05:.1f} kg" == "36.5 kg"
    # The door: 698.1 by 1886.9 is 32.93 kg, its hole of 20 mm takes 8 g; 2 kg of hardware.
    assert (door["glass_mass"], door["mass"]) == ("33.0 kg", "35.0 kg")
    assert told["made_glass"]["panels"][1]["mass"] == "35.0 kg"
    assert told["hands_needed"] == max(one["hands"] for one in told["panels"]) == 2
    assert [one["lift"]["people"] for one in told["panes"]] == [2, 2]


def test_the_question_of_panels_answers_the_order_as_the_verdict_does() -> None:
    told = verdict(gaps={**GLASS["gaps"], "between": "9 mm"})  # 8 is tight if both come large
    again = answer(told["made_glass"]["order"])

    mine = [
        {name: value for name, value in one.items() if name not in ("handle", "order")}
        for one in told["made_glass"]["panels"]
    ]
    assert mine == again["panels"]
    rules = ("pane.", "hole.", "notch.")
    found = [{**one, "readings": []} for one in told["findings"] if one["rule"].startswith(rules)]
    assert found == again["findings"]
    assert told["made_glass"]["state"] == again["state"] == "fits"


@pytest.mark.parametrize(
    ("without", "needs"),
    [
        ("width none 2000", {("width", "none", "74 51/64 in")}),
        ("sill_level", {("sill_level", "none", None)}),
        ("ceiling_height right", {("ceiling_height", "right", None)}),
        ("lean", {("lean", "left", None), ("lean", "right", None)}),
    ],
)
def test_what_is_not_read_is_asked_for_and_nothing_is_cut(
    without: str, needs: set[tuple[str, str, str | None]]
) -> None:
    told = verdict(without=without)
    asks = {
        (one["quantity"], one["side"], one["height"])
        for one in told["missing"]
        if "made.opening" in one["rules"]
    }

    assert needs <= asks
    assert asks
    assert told["made_glass"]["panels"] == []
    assert told["made_glass"]["order"] is None
    assert found(told, "made.opening")["state"] == told["made_glass"]["state"] == "unknown"
    assert told["made_glass"]["why"] == found(told, "made.opening")["do"]
    assert "opening is read" in told["questions"][-1]["text"]


def test_nothing_is_cut_to_a_wall_that_bows_or_to_readings_that_contradict() -> None:
    bowed = verdict(change={"width none 1000 mm": "1490 mm"})
    burned = verdict(change={"width none 2000 mm": "1513.4 mm"})

    assert "walls bow" in bowed["made_glass"]["why"]
    assert "which reading" in burned["made_glass"]["why"]
    assert bowed["state"] == burned["state"] == "unknown"


def test_the_hole_goes_to_the_handles_side() -> None:
    # The door's handle is opposite the shower head.
    left, right = (verdict(head=side)["made_glass"]["panels"][1] for side in ("right", "left"))

    assert (left["handle"], right["handle"]) == ("left", "right")
    assert mm(left["holes"][0]["right"]) == pytest.approx(70, abs=0.01)
    assert mm(right["holes"][0]["right"]) == pytest.approx(700 - 70 - 4 * 1000 / 2000, abs=0.05)


def test_without_the_shower_heads_side_no_hole_is_placed() -> None:
    told = verdict(head="unknown")

    assert found(told, "made.handle")["state"] == "unknown"
    assert told["made_glass"]["panels"] == []
    assert "shower head" in told["made_glass"]["why"]


def test_panels_too_wide_for_the_opening_fail_with_by_how_much() -> None:
    panels = copy.deepcopy(GLASS["panels"])
    panels[1]["width"] = "1500 mm"  # type: ignore[index]
    told = verdict(panels=panels)

    # 1500 less 8, 9 and 8 is 1475: 25 mm too wide.
    assert found(told, "made.room")["state"] == told["state"] == "fails"
    assert "25.0" in told["made_glass"]["why"]


def test_a_width_is_held_against_what_the_maker_allows_at_its_narrowest_and_widest() -> None:
    panels = copy.deepcopy(GLASS["panels"])
    panels[0] |= {"least": "770 mm", "most": "900 mm"}  # type: ignore[operator]
    fails = verdict(panels=panels)
    panels[0] |= {"least": "762 mm"}  # type: ignore[operator]

    # 775 at the foot less 7.56 of the wall is 767.4 at the head.
    assert found(fails, "made.width")["state"] == "fails"
    assert mm(found(fails, "made.width")["reading"]) == pytest.approx(767.4, abs=0.1)
    assert found(verdict(panels=panels), "made.width")["state"] == "fits"


def test_glass_in_a_channel_is_square_and_the_channel_must_hide_the_wedge() -> None:
    hides = verdict(channel_hides="11 mm")
    shows = verdict(channel_hides="7 mm")

    assert [mm(t) for t in hides["made_glass"]["panels"][0]["tapers"].values()] == [0, 0, 0, 0]
    assert found(hides, "pane.taper")["state"] == "fits"
    assert found(shows, "pane.taper")["state"] == "fails"  # 8 mm over 2 m, on to the ceiling


def test_glass_that_follows_the_head_needs_a_width_near_it() -> None:
    far = verdict(top=None)
    near = verdict(
        top=None,
        change={"ceiling_height left": "2100 mm", "ceiling_height right": "2098 mm"},
    )

    assert any(one["quantity"] == "width" for one in far["missing"])
    fixed = near["made_glass"]["panels"][0]
    # Up to the ceiling: the head falls by what the sill rises less 2 mm, a gap of 10 below it.
    assert mm(fixed["edges"]["left"]) == pytest.approx(2080, abs=0.1)
    assert mm(fixed["tapers"]["head"]) == pytest.approx((2098 + 3 - 2100) * 769 / 1488, abs=0.05)


def test_a_depth_is_told_of_glass_made_to_measure() -> None:
    told = depth(asked())

    assert told["rules_version"] == check(asked()).rules_version
    assert told["chance"]["unknown"] > 0  # type: ignore[index]  # no zone was told


@settings(max_examples=25)
@given(wider=st.integers(0, 60), lean=st.integers(-12, 12))
def test_every_panel_keeps_its_gaps_and_grows_with_the_opening(wider: int, lean: int) -> None:
    change = {
        "width none 0 mm": f"{1500 + wider} mm",
        "width none 1000 mm": f"{1500 + wider - lean / 2 - 2:.1f} mm",
        "width none 2000 mm": f"{1500 + wider - lean - 4} mm",
        "lean left": f"{lean} mm",
    }
    told = verdict(change=change)["made_glass"]
    fixed, door = told["panels"]
    corners = told["order"]["opening"]
    head = (
        length_parse(corners["left_head"]["right"]).nm / length_parse(corners["left_head"]["up"]).nm
    )

    assert mm(door["edges"]["foot"]) == pytest.approx(700, abs=0.05)
    assert mm(fixed["edges"]["foot"]) == pytest.approx(775 + wider, abs=0.2)
    assert mm(fixed["tapers"]["left"]) == pytest.approx(head * mm(fixed["edges"]["left"]), abs=0.05)


def refusals(body: Json) -> dict[str, str]:
    with pytest.raises(InputErrors) as wrong:
        sheet_parse(body)
    return {error.pointer: error.code for error in wrong.value.errors}


def test_a_sheet_has_no_more_panels_than_an_order_takes() -> None:
    body = copy.deepcopy(BODY)
    fixed, door = body["made_glass"]["panels"]
    more = [{**fixed, "name": f"fixed {number}"} for number in range(11)]

    body["made_glass"]["panels"] = [*more, door]
    assert sheet_parse(body).made_glass is not None
    body["made_glass"]["panels"] = [*more, fixed, door]
    assert refusals(body)["/made_glass/panels"] == "not_a_list"


def two_kinds(body: Json) -> None:
    body["panels"] = [
        {"name": "a", "width": "1 m", "height": "1 m", "thickness": "8 mm", "order": 1, "page": "1"}
    ]


@pytest.mark.parametrize(
    ("spoil", "pointer", "code"),
    [
        (lambda b: b.pop("glazing"), "/glazing", "missing"),
        (two_kinds, "/panels", "two_kinds_of_panels"),
        (lambda b: b.update(walls=["right"]), "/walls", "walls_needed"),
        (
            lambda b: b["made_glass"].update(thickness="9 mm"),
            "/made_glass/thickness",
            "not_a_thickness",
        ),
        (lambda b: b["made_glass"]["gaps"].pop("foot"), "/made_glass/gaps/foot", "missing"),
        (
            lambda b: b["made_glass"]["panels"][0].update(width="10 in"),
            "/made_glass/panels",
            "nothing_adapts",
        ),
        (
            lambda b: b["made_glass"]["panels"][0].update(name="door"),
            "/made_glass/panels",
            "name_twice",
        ),
        (
            lambda b: b["made_glass"]["panels"][0].update(least="2 m"),
            "/made_glass/panels/0/most",
            "limits_crossed",
        ),
        (
            lambda b: b["made_glass"]["panels"][1].pop("handle"),
            "/made_glass/panels/1/handle",
            "missing",
        ),
        (
            lambda b: b["fixings"][0]["bracket"]["hinge"].update(panel="dor"),
            "/fixings",
            "panel_unknown",
        ),
    ],
)
def test_a_sheet_that_contradicts_itself_is_refused(spoil: Any, pointer: str, code: str) -> None:
    body = copy.deepcopy(BODY)
    spoil(body)

    assert refusals(body)[pointer] == code
