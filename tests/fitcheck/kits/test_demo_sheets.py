"""Do the demo's invented kits make sense to the trade, and do its surveys give what they claim?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.length import length_parse
from fitcheck.rules.sheet_parse import sheet_parse

ROOT = Path(__file__).resolve().parents[3]
KITS = {
    path.stem: json.loads(path.read_text(encoding="utf-8"))
    for path in sorted((ROOT / "fitcheck/kits/demo").glob("*.json"))
}
DEMO = ROOT / "contractor/config/demo"
STORY = json.loads((DEMO / "story.json").read_text(encoding="utf-8"))
SHEETS = {
    f"{slug} v{sheet['version']}": sheet["body"]
    for slug, kit in KITS.items()
    for sheet in kit["sheets"]
}
SURVEYS = {survey["ref"]: survey for opening in STORY["openings"] for survey in opening["surveys"]}
SLIDERS = ("bypass_slider", "single_slider")

Part = dict[str, Any]


def nm(text: str) -> int:
    return length_parse(text).nm


def window_at(size: Part, height: str) -> tuple[int, int]:
    """Least and most width of a size at the window nearest to a height."""
    window = min(size["windows"], key=lambda each: abs(nm(each["height"]) - nm(height)))
    return nm(window["least"]), nm(window["most"])


def parts_of(body: Part, kind: str, size: Part) -> list[Part]:
    """The cuts or panels that belong to a size."""
    return [part for part in body[kind] if size["code"] in part.get("sizes", [size["code"]])]


def sheet_of(survey: Part) -> Part:
    body: Part = SHEETS[f"{survey['kit']} v{survey['kit_version']}"]
    return body


def verdict_of(survey: Part) -> Part:
    return check({**survey["inputs"], "sheet": sheet_of(survey)}).as_json()


@pytest.mark.parametrize("name", SHEETS)
def test_a_demo_sheet_is_a_rule_sheet(name: str) -> None:
    assert sheet_parse(SHEETS[name]).document.title.endswith("(invented)")


def test_the_demo_shows_every_kind_of_kit_in_both_units() -> None:
    shown = {(body["kind"], body["unit"]) for body in SHEETS.values()}
    assert {kind for kind, _ in shown} >= {"bypass_slider", "single_slider", "hinged_door"}
    assert {("bypass_slider", "inch"), ("bypass_slider", "metric")} <= shown
    assert {("fixed_screen", "inch"), ("fixed_screen", "metric")} <= shown
    assert ["tub_deck"] in [body["stands_on"] for body in SHEETS.values()]
    assert len(KITS) >= 8


@pytest.mark.parametrize("slug", KITS)
def test_a_demo_kit_says_that_it_is_invented_and_numbers_its_sheets(slug: str) -> None:
    kit = KITS[slug]
    assert kit["kit"]["invented"] is True
    assert kit["kit"]["slug"] == slug
    versions = [sheet["version"] for sheet in kit["sheets"]]
    assert versions == list(range(1, len(versions) + 1))
    editions = [sheet["body"]["document"]["edition"] for sheet in kit["sheets"]]
    assert editions == sorted(set(editions))


def test_the_newer_edition_allows_less() -> None:
    older, newer = (sheet["body"] for sheet in KITS["vellumbrook-fennimule"]["sheets"])
    for rule in ("width_difference", "lean"):
        assert nm(newer[rule]["most"]) < nm(older[rule]["most"])


@pytest.mark.parametrize("name", SHEETS)
def test_every_part_can_be_cut_at_both_ends_of_its_window(name: str) -> None:
    for size in SHEETS[name]["sizes"]:
        cuts = parts_of(SHEETS[name], "cuts", size)
        assert cuts, size["code"]
        for cut in cuts:
            taken = nm(cut["deduct"]) + nm(cut.get("brackets_take", "0 in"))
            narrow, wide = (w - taken for w in window_at(size, cut["height"]))
            assert nm(cut["least"]) <= narrow, (size["code"], cut["part"])
            assert wide <= nm(cut["most"] or cut["stock"]), (size["code"], cut["part"])
            assert wide <= nm(cut["stock"]), (size["code"], cut["part"])


@pytest.mark.parametrize("name", [n for n, body in SHEETS.items() if body["kind"] in SLIDERS])
def test_sliding_panels_overlap_at_the_widest_opening_and_pass_at_the_narrowest(name: str) -> None:
    for size in SHEETS[name]["sizes"]:
        panels = [nm(panel["width"]) for panel in parts_of(SHEETS[name], "panels", size)]
        narrow, wide = window_at(size, "0 in")
        assert len(panels) == 2
        assert sum(panels) - wide >= nm("1 1/2 in"), size["code"]
        assert narrow - max(panels) >= nm("18 in"), size["code"]


@pytest.mark.parametrize("name", SHEETS)
def test_glass_is_shorter_than_the_room_the_sheet_asks_for(name: str) -> None:
    body = SHEETS[name]
    ceiling = nm(body["ceiling_height"]["least"])
    assert all(nm(panel["height"]) < ceiling for panel in body["panels"])
    if body["surround_height"]:
        assert nm(body["rail_height"]) < nm(body["surround_height"]["least"]) < ceiling


@pytest.mark.parametrize("name", SHEETS)
def test_what_carries_weight_must_reach_backing_where_backing_is_asked_for(name: str) -> None:
    asked = {(f"{s}_wall", r["height"]) for r in SHEETS[name]["backing"] for s in r["sides"]}
    loaded = [fixing for fixing in SHEETS[name]["fixings"] if fixing["load"]]
    assert loaded
    for fixing in loaded:
        both = fixing["surface"] == "both_walls"
        surfaces = ["left_wall", "right_wall"] if both else [fixing["surface"]]
        heights = fixing.get("heights") or [fixing["height"]]
        assert fixing["must_reach"] == "backing"
        assert {(surface, height) for surface in surfaces for height in heights} <= asked


@pytest.mark.parametrize("name", SHEETS)
def test_demo_sheets_do_not_repeat_the_check_values_of_the_trade(name: str) -> None:
    # Common practice, no source: those numbers test the engine and must not come from a demo kit.
    body = SHEETS[name]
    difference = body["width_difference"]
    assert difference is None or nm(difference["most"]) != nm("3/8 in")
    assert {nm(cut["deduct"]) for cut in body["cuts"]}.isdisjoint({nm("1/4 in"), nm("7/8 in")})
    assert nm("2 1/2 in") not in {nm(rule["setback_least"]) for rule in body["backing"]}


def test_the_newest_editions_describe_what_hangs_on_what() -> None:
    newest = [kit["sheets"][-1]["body"] for kit in KITS.values()]
    bears = [f["bracket"]["bears"] for body in newest for f in body["fixings"] if "bracket" in f]

    assert set(bears) == {"rail", "hinge", "load"}
    for member in ("glazing", "sealant_product"):
        assert sum(member in body for body in newest) >= 5
    assert sum("rail" in body for body in newest) >= 3
    assert [body["walls"] for body in newest if "walls" in body] == [["right"]]


@pytest.mark.parametrize("ref", SURVEYS)
def test_a_story_survey_gives_the_state_it_is_told_for(ref: str) -> None:
    survey = SURVEYS[ref]
    verdict = verdict_of(survey)
    worst = [f for f in verdict["findings"] if f["state"] == survey["expect"] != "fits"]
    assert verdict["state"] == survey["expect"], verdict["summary"]
    assert {finding["rule"] for finding in worst} == set(survey["expect_rules"])


@pytest.mark.parametrize("ref", SURVEYS)
def test_a_story_survey_lists_exactly_the_readings_it_lacks(ref: str) -> None:
    missing = verdict_of(SURVEYS[ref])["missing"]
    lacks = {(each["quantity"], each["side"], each["height"]) for each in missing}
    assert lacks == {tuple(each) for each in SURVEYS[ref]["expect_missing"]}


def test_the_story_shows_every_state() -> None:
    assert {s["expect"] for s in SURVEYS.values()} == {"fits", "tight", "fails", "unknown"}


def test_no_reading_or_zone_of_the_story_shares_its_id() -> None:
    ids = [
        each["id"]
        for survey in SURVEYS.values()
        for each in [*survey["inputs"]["readings"], *survey["inputs"]["zones"]]
    ]
    assert len(ids) == len(set(ids))


def test_the_stand_alone_example_and_the_posted_example_fit() -> None:
    alone = json.loads((DEMO / "survey-example.json").read_text(encoding="utf-8"))
    posted = json.loads((DEMO / "survey-post.json").read_text(encoding="utf-8"))
    body = KITS[posted.pop("kit")]["sheets"][-1]["body"]
    for inputs in (alone["inputs"], {**posted, "sheet": body}):
        assert check(inputs).as_json()["state"] == "fits"
