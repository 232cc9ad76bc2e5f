"""Do the demo's invented kits make sense to the trade, and do its surveys give what they claim?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.length import length_parse
from fitcheck.rules.sheet import CutRule, Limit, PanelRule, Sheet, Size, applies
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


def nm(text: str) -> int:
    return length_parse(text).nm


def most_of(limit: Limit | None) -> int:
    assert limit is not None
    assert limit.most is not None
    return limit.most.nm


def widths(size: Size, at: int) -> tuple[int, int]:
    """Least and most width of a size at the window nearest to a height."""
    window = min(size.windows, key=lambda each: abs(each.height.nm - at))
    return window.least.nm, window.most.nm


def cuts_of(sheet: Sheet) -> list[tuple[Size, CutRule]]:
    return [(size, cut) for size in sheet.sizes for cut in sheet.cuts if applies(cut.sizes, size)]


def panels_of(sheet: Sheet, size: Size) -> list[PanelRule]:
    return [panel for panel in sheet.panels if applies(panel.sizes, size)]


def sheet_of(survey: dict[str, Any]) -> dict[str, Any]:
    body: dict[str, Any] = SHEETS[f"{survey['kit']} v{survey['kit_version']}"]
    return body


def verdict_of(survey: dict[str, Any]) -> dict[str, Any]:
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
    older, newer = (sheet_parse(s["body"]) for s in KITS["vellumbrook-fennimule"]["sheets"])
    for old, new in ((older.width_difference, newer.width_difference), (older.lean, newer.lean)):
        assert most_of(new) < most_of(old)


@pytest.mark.parametrize("name", SHEETS)
def test_every_part_can_be_cut_at_both_ends_of_its_window(name: str) -> None:
    sheet = sheet_parse(SHEETS[name])
    assert cuts_of(sheet)
    for size, cut in cuts_of(sheet):
        narrow, wide = (width - cut.deduct.nm for width in widths(size, cut.height.nm))
        assert wide <= cut.stock.nm, (size.code, cut.part)
        assert cut.least is None or cut.least.nm <= narrow, (size.code, cut.part)
        assert cut.most is None or wide <= cut.most.nm, (size.code, cut.part)


@pytest.mark.parametrize("name", [n for n, body in SHEETS.items() if body["kind"] in SLIDERS])
def test_sliding_panels_overlap_at_the_widest_opening_and_pass_at_the_narrowest(name: str) -> None:
    sheet = sheet_parse(SHEETS[name])
    for size in sheet.sizes:
        panels = [panel.width.nm for panel in panels_of(sheet, size)]
        narrow, wide = widths(size, 0)
        assert len(panels) == 2
        assert sum(panels) - wide >= nm("1 1/2 in"), size.code
        assert narrow - max(panels) >= nm("18 in"), size.code


@pytest.mark.parametrize("name", SHEETS)
def test_glass_is_shorter_than_the_room_the_sheet_asks_for(name: str) -> None:
    sheet = sheet_parse(SHEETS[name])
    assert sheet.ceiling_height is not None
    assert sheet.ceiling_height.least is not None
    assert all(panel.height.nm < sheet.ceiling_height.least.nm for panel in sheet.panels)
    if sheet.rail_height and sheet.surround_height and sheet.surround_height.least:
        assert sheet.rail_height.nm < sheet.surround_height.least.nm


@pytest.mark.parametrize("name", SHEETS)
def test_what_carries_weight_must_reach_backing_where_backing_is_asked_for(name: str) -> None:
    sheet = sheet_parse(SHEETS[name])
    asked = {(f"{side}_wall", rule.height.nm) for rule in sheet.backing for side in rule.sides}
    loaded = [fixing for fixing in sheet.fixings if fixing.load_n is not None]
    assert loaded
    for fixing in loaded:
        assert fixing.must_reach == "backing"
        assert {(s, h.nm) for s in fixing.surfaces for h in fixing.heights} <= asked


@pytest.mark.parametrize("name", SHEETS)
def test_demo_sheets_do_not_repeat_the_check_values_of_the_trade(name: str) -> None:
    # Common practice, no source: those numbers test the engine and must not come from a demo kit.
    sheet = sheet_parse(SHEETS[name])
    difference = sheet.width_difference.most if sheet.width_difference else None
    assert difference is None or difference.nm != nm("3/8 in")
    assert {cut.deduct.nm for cut in sheet.cuts}.isdisjoint({nm("1/4 in"), nm("7/8 in")})
    assert nm("2 1/2 in") not in {rule.setback_least.nm for rule in sheet.backing}


@pytest.mark.parametrize("ref", SURVEYS)
def test_a_story_survey_gives_the_state_it_is_told_for(ref: str) -> None:
    survey = SURVEYS[ref]
    verdict = verdict_of(survey)
    worst = [f for f in verdict["findings"] if f["state"] == survey["expect"] != "fits"]
    assert verdict["state"] == survey["expect"], verdict["summary"]
    assert {finding["rule"] for finding in worst} == set(survey["expect_rules"])


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
