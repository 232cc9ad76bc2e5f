"""What would make a kit fit: each amount, once done and read again, does make it fit."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.check import check as checked
from fitcheck.rules.asked_case import Case, case_read, inputs_opened, read_findings
from fitcheck.rules.least_change import (
    answer,
    changes,
    doubted,
    least_change,
    limiting,
    other_sizes,
    packing_for,
)
from fitcheck.rules.length import length_parse, mm_text
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.verdict import Verdict
from tests.fitcheck.conftest import fresh

Inputs = dict[str, Any]


def check(inputs: dict[str, Any]) -> Verdict:
    """By the first rules: one reading alone is changed here, which the others would contradict."""
    return checked(inputs, version="1")


def case_of(inputs: Inputs) -> Case:
    case = case_read(inputs_opened(inputs))
    assert case is not None
    return case


def told(inputs: Inputs, rule: str) -> list[Inputs]:
    found: Any = answer(inputs)["changes"]
    return [each for each in found if each["rule"] == rule]


def plain(inputs: Inputs) -> Inputs:
    """The case without its diagonals, so that another reading may be anything."""
    for row in inputs["readings"]:
        if row["quantity"] == "diagonal":
            row |= {"quantity": "curb_depth", "side": "none", "value": "4 1/2 in"}
    return inputs


def test_an_opening_that_fits_wants_no_change(bypass: Inputs) -> None:
    found: Inputs = answer(bypass)

    assert found["changes"] == []
    assert found["packing"] is None
    assert found["limiting"]["rule"] == "sill.fall"
    assert [each["size"] for each in found["other_sizes"]] == ["54"]


def test_the_limiting_finding_is_the_one_with_the_least_margin(bypass: Inputs) -> None:
    findings = check(bypass).findings

    found = limiting(findings)

    assert found is not None
    assert found.margin is not None
    assert found.margin.low_nm == min(
        f.margin.low_nm for f in findings if f.margin and f.margin.u_mm
    )
    assert limiting([f for f in findings if f.margin is None]) is None


@pytest.mark.parametrize(
    ("rule", "change", "kind"),
    [
        ("wall.lean", {"lean": {"most": "1/64 in", "over": "73 in", "page": "2"}}, "shim"),
        ("sill.level", {"level": {"most": "1/64 in", "page": "2"}}, "level"),
        ("sill.fall", {"sill_fall": {"least": "1/4 in", "most": "1/2 in", "page": "2"}}, "level"),
        ("sill.fall", {"sill_fall": {"least": "1/64 in", "most": "1/8 in", "page": "2"}}, "level"),
        ("ceiling.height", {"ceiling_height": {"least": "96 in", "page": "2"}}, "choose"),
    ],
)
def test_a_failing_rule_says_what_kind_of_work_it_wants(
    bypass: Inputs, rule: str, change: Inputs, kind: str
) -> None:
    bypass["sheet"].update(change)

    found = told(bypass, rule)

    assert {each["kind"] for each in found} == {kind}
    assert {each["state"] for each in found} == {"fails"}
    assert all((each["amount"] is None) == (kind == "choose") for each in found)
    assert all(each["readings"] for each in found)


@pytest.mark.parametrize("out", ["5/8 in", "1/2 in", "17 mm", "23.7 mm", "31.123457 mm"])
def test_levelling_by_the_amount_makes_the_level_fit_for_sure(bypass: Inputs, out: str) -> None:
    plain(bypass)["readings"][8]["value"] = out
    (found,) = told(bypass, "sill.level")
    amount = length_parse(found["amount"]).nm

    bypass["readings"][8]["value"] = mm_text(length_parse(out).nm - amount)
    (after,) = [f for f in check(bypass).findings if f.rule == "sill.level"]

    assert after.state == "fits"
    assert "to spare" in after.do
    bypass["readings"][8]["value"] = mm_text(length_parse(out).nm - amount + 1)
    (less,) = [f for f in check(bypass).findings if f.rule == "sill.level"]
    assert less.state == "tight"


def test_a_tight_rule_wants_a_surer_reading_and_says_how_sure(bypass: Inputs) -> None:
    """By hand: 2.38125 mm to spare over 1.645 is 1.4476; a level reads to 0.80 mm, this tool to 1.82."""
    bypass["sheet"]["level"]["most"] = "1/8 in"
    bypass["readings"][8]["tool"]["kind"] = "other"

    (found,) = told(bypass, "sill.level")

    assert found["kind"] == "read_sharper"
    assert found["amount"] is None
    # printed so that it is never too lenient
    assert "sure to 1.45 mm" in found["do"]
    assert "now it is 1.82 mm" in found["do"]


@pytest.mark.parametrize(
    ("most", "amount"), [("1/16 in", "1/16 in (0.6 mm)"), ("1/32 in", "1/16 in (1.4 mm)")]
)
def test_what_no_tool_can_settle_is_worked_until_it_fits_for_sure(
    bypass: Inputs, most: str, amount: str
) -> None:
    """By hand: 1.645 x 0.80 mm is 1.32 mm to keep clear, of which 0.79 mm and nothing are there."""
    bypass["sheet"]["level"]["most"] = most

    (found,) = told(bypass, "sill.level")

    assert (found["kind"], found["state"]) == ("level", "tight")
    assert found["do"] == (
        f"Too near its limit for any tool to tell. To be sure: level the sill by {amount} over its "
        "run: raise its left end (sill, end to end)."
    )


def test_where_no_work_is_known_another_size_or_kit_is_chosen(bypass: Inputs) -> None:
    bypass["sheet"]["curb"] |= {"depth_least": "4 in", "flat_least": "4 in"}

    (found,) = told(bypass, "curb.flat")

    assert (found["kind"], found["amount"]) == ("choose", None)
    assert found["do"].endswith("choose another size or kit (curb or deck).")


@pytest.mark.parametrize(
    ("reading", "rule", "value", "words"),
    [
        (6, "wall.lean", "1 in", "at its foot: it leans into the opening (left wall)."),
        (6, "wall.lean", "-1 in", "at its top: it leans out of the opening (left wall)."),
        (8, "sill.level", "1 in", "over its run: raise its left end (sill, end to end)."),
        (8, "sill.level", "-1 in", "over its run: raise its right end (sill, end to end)."),
    ],
)
def test_the_end_that_is_worked_on_is_the_one_that_is_out(
    bypass: Inputs, reading: int, rule: str, value: str, words: str
) -> None:
    """A lean is positive into the opening, a level where its right end is the higher one."""
    plain(bypass)["readings"][reading]["value"] = value
    if rule == "wall.lean":  # the other wall leans along, so that no width changes
        bypass["readings"][7]["value"] = value.removeprefix("-") if "-" in value else f"-{value}"

    found = told(bypass, rule)

    assert found[0]["do"].endswith(words)
    assert all("at its" in each["do"] or "raise its" in each["do"] for each in found)


def test_a_missing_reading_is_to_be_read(bypass: Inputs, read: Callable[..., None]) -> None:
    read(bypass, "curb_flat", None)

    (found,) = told(bypass, "curb.flat")

    assert (found["kind"], found["state"]) == ("read", "unknown")
    assert found["do"] == "Read the flat width of the curb or deck."


def test_failures_come_before_what_is_unknown_and_what_is_tight(
    bypass: Inputs, read: Callable[..., None]
) -> None:
    read(bypass, "curb_flat", None)
    bypass["sheet"]["level"]["most"] = "1/16 in"
    bypass["sheet"]["ceiling_height"]["least"] = "96 in"

    states = [each["state"] for each in answer(bypass)["changes"]]  # type: ignore[attr-defined]

    assert states == ["fails", "fails", "unknown", "tight"]


def test_blocking_is_moved_by_what_is_missing(bypass: Inputs) -> None:
    bypass["readings"][16]["value"] = "1 in"

    found = told(bypass, "backing.setback")

    assert [each["kind"] for each in found] == ["block"]
    assert "farther in" in found[0]["do"]


def widths_set(inputs: Inputs, *texts: str) -> None:
    for n, text in zip((0, 2, 4), texts, strict=True):
        inputs["readings"][n]["value"] = inputs["readings"][n + 1]["value"] = text


def test_widths_too_wide_are_packed_until_they_fit(bypass: Inputs) -> None:
    bypass["size"] = "58"
    widths_set(bypass, "58 7/8 in", "58 15/16 in", "59 in")

    found: Inputs = answer(bypass)

    assert found["packing"]["top"] == "1854.2 mm"
    assert "both walls together" in found["packing"]["do"]
    sill, top = (length_parse(found["packing"][end]).nm for end in ("at_sill", "at_top"))
    assert 0 < sill < top
    assert {each["kind"] for each in told(bypass, "width.window")} == {"fur_out"}


@given(widths=st.lists(st.integers(0, 96), min_size=3, max_size=3))
def test_packed_and_read_again_the_widths_fit(widths: list[int]) -> None:
    bypass = fresh("inputs_bypass")
    bypass["size"] = "58"
    nms = [length_parse("56 in").nm + one * length_parse("1/32 in").nm for one in widths]
    widths_set(bypass, *map(mm_text, nms))
    packing = packing_for(case_of(bypass))
    if packing is None:
        return
    heights = (length_parse(h).nm for h in ("0 in", "36 in", "72 in"))
    packed = [nm - packing.at(h) for nm, h in zip(nms, heights, strict=True)]
    widths_set(bypass, *map(mm_text, packed))

    rules = {"width.window", "width.difference"}
    states = {f.state for f in read_findings(case_of(bypass)) if f.rule in rules}

    assert states == {"fits"}


def test_no_packing_is_told_for_a_width_that_was_not_read(
    bypass: Inputs, read: Callable[..., None]
) -> None:
    bypass["size"] = "58"
    read(bypass, "width", None, height="72 in")

    assert packing_for(case_of(bypass)) is None


def test_a_wall_that_is_too_near_cannot_be_packed_away(bypass: Inputs) -> None:
    bypass["size"] = "58"
    widths_set(bypass, "54 in", "54 in", "54 in")

    found: Inputs = answer(bypass)

    assert found["packing"] is None
    window = told(bypass, "width.window")[0]
    least = length_parse(bypass["sheet"]["sizes"][1]["windows"][0]["least"]).nm
    assert window["kind"] == "grind"
    assert 0 < length_parse(window["amount"]).nm - (least - length_parse("54 in").nm) < 1_500_000
    assert "Structure is never cut" in window["do"]
    assert "the leave of the wall's owner" in window["do"]
    assert found["other_sizes"][0]["size"] == "54"


def test_other_sizes_are_ranked_and_say_what_limits_them(bypass: Inputs) -> None:
    bypass["sheet"]["sizes"].append({**bypass["sheet"]["sizes"][1], "code": "58b"})
    bypass["size"] = "54"

    found = other_sizes(case_of(bypass))

    assert [each.code for each in found] == ["58", "58b"]
    assert {each.state for each in found} == {check({**bypass, "size": "58"}).state}
    assert found[0].limit is not None
    shown: Inputs = found[0].as_json(16)
    assert shown["limited_by"]["rule"] == found[0].limit.rule
    assert length_parse(shown["least_margin"]).nm == found[0].margin_nm


def test_a_reading_that_the_others_contradict_is_read_again_before_any_wall_is_touched(
    bypass: Inputs,
) -> None:
    bypass["readings"][4]["value"] = "57 5/16 in"
    bypass["readings"] = [r for n, r in enumerate(bypass["readings"]) if n != 5]

    first = answer(bypass)["changes"][0]  # type: ignore[index]

    assert (first["rule"], first["kind"]) == ("shape.mistake", "read_again")
    assert first["do"].startswith("Read the width at 72 in above the sill again before anything")
    assert first["do"].endswith("never taken off; then it is 56 5/16 in.")


def test_no_other_size_fits_over_readings_that_contradict_each_other(bypass: Inputs) -> None:
    bypass["sheet"]["sizes"].append({**bypass["sheet"]["sizes"][1], "code": "59"})
    sure: Any = answer(bypass)["other_sizes"]
    for n in (2, 3):
        bypass["readings"][n]["value"] = "57 1/4 in"
    found: Any = answer(bypass)["other_sizes"]

    assert {one["size"]: one["state"] for one in sure}["59"] == "fits"
    assert {one["state"] for one in found} <= {"unknown", "fails"}
    told = next(one for one in found if one["size"] == "59")
    assert (told["state"], told["least_margin"]) == ("unknown", None)
    assert told["limited_by"]["rule"] == "shape.agreement"


def test_readings_that_agree_are_not_doubted(bypass: Inputs, read: Callable[..., None]) -> None:
    assert doubted(case_of(bypass).survey) == ()
    bypass["readings"] = [r for r in bypass["readings"] if r["quantity"] == "curb_depth"]
    assert doubted(case_of(bypass).survey) == ()


def test_two_readings_that_cannot_be_told_apart_are_both_read_again(bypass: Inputs) -> None:
    bypass["readings"] = bypass["readings"][:2]
    bypass["readings"][1]["value"] = "57 7/32 in"

    found = doubted(case_of(bypass).survey)

    assert [each.readings for each in found] == [
        (bypass["readings"][0]["id"],),
        (bypass["readings"][1]["id"],),
    ]


def test_the_least_change_of_a_verdict_needs_only_its_findings(bypass: Inputs) -> None:
    bypass["sheet"]["level"]["most"] = "1/64 in"
    case, findings = case_of(bypass), check(bypass).findings

    found = least_change(case, findings)

    assert [each.rule for each in found.changes] == ["sill.level"]
    assert found.changes == changes(findings, case.house, case.survey)


def test_malformed_inputs_are_refused(bypass: Inputs) -> None:
    with pytest.raises(InputErrors) as caught:
        answer({**bypass, "siez": "58"})

    assert [(e.pointer, e.hint) for e in caught.value.errors] == [("/siez", "did you mean size?")]


def test_without_a_guard_band_what_just_fits_cannot_be_read_surer(bypass: Inputs) -> None:
    bypass["sheet"]["level"]["most"] = "1/32 in"
    bypass["house"]["guard_factor"] = "0"

    (found,) = told(bypass, "sill.level")

    assert "standard uncertainty" not in found["do"]
