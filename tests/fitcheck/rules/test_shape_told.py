"""Does a verdict say which reading is in doubt, and rely on none of them?"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import adjustment
from fitcheck.rules.shape_closer import shape_closer
from fitcheck.rules.shape_state import SHAPING
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read

Inputs = dict[str, Any]
TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
CHECKED = ("width", "lean", "diagonal")
LEVEL = {"kind": "level", "graduation": "1/32 in"}


def with_leans(inputs: Inputs) -> Inputs:
    """The sample opening with diagonals, so that every width is checked by others."""
    inputs["readings"] = [r for r in inputs["readings"] if r["quantity"] not in CHECKED]
    for n, (height, value) in enumerate(
        (("0 in", "57 in"), ("36 in", "57 in"), ("73 in", "57 in"))
    ):
        inputs["readings"].append(
            {"id": f"w{n}", "quantity": "width", "height": height, "value": value, "tool": TAPE}
        )
    for side in ("left", "right"):
        inputs["readings"].append(
            {
                "id": f"l{side}",
                "quantity": "lean",
                "side": side,
                "over": "73 in",
                "value": "0 in",
                "tool": LEVEL,
            }
        )
        inputs["readings"].append(
            {
                "id": f"d{side}",
                "quantity": "diagonal",
                "side": side,
                "height": "73 in",
                "value": "92 5/8 in",
                "tool": TAPE,
            }
        )
    for one in inputs["readings"]:
        if one["quantity"] == "sill_level":
            one["value"] = "0 in"
    return inputs


def misread(inputs: Inputs, name: str, value: str) -> Inputs:
    for one in inputs["readings"]:
        if one["id"] == name:
            one["value"] = value
    return inputs


def test_readings_that_agree_say_so_and_change_nothing(bypass: Inputs) -> None:
    inputs = with_leans(bypass)
    told: Any = check(inputs).as_json()
    first: Any = check(inputs, version="1").as_json()

    assert told["shape"]["state"] == "agree"
    assert told["shape_why"] is None
    assert [one["uncertainty"] is not None for one in told["shape"]["widths"]] == [True] * 3
    kept = [
        one for one in told["findings"] if one["rule"] in {f["rule"] for f in first["findings"]}
    ]
    assert kept == first["findings"]


def test_a_burned_inch_is_named_and_nothing_rests_on_it(
    bypass: Inputs, finding: Callable[..., Any]
) -> None:
    inputs = misread(with_leans(bypass), "w1", "58 in")
    verdict = check(inputs)
    told: Any = verdict.as_json()

    assert told["state"] == "unknown"
    assert told["shape"]["state"] == "corrected"
    (out,) = told["shape"]["taken_out"]
    assert (out["id"], out["mistake"]["kind"]) == ("w1", "burned inch")
    assert finding(verdict, "width.window", "36 in").state == "unknown"
    assert "width at 36 in" in finding(verdict, "width.window", "36 in").do
    assert finding(verdict, "width.window", "73 in").state == "fits"
    assert finding(verdict, "shape.agreement").state == "unknown"
    assert told["summary"].count("Taken out") == 1
    assert told["shape"]["one_more_reading"]["do"].startswith("Read the ")


def test_a_cut_that_rests_on_a_reading_in_doubt_is_not_foretold(bypass: Inputs) -> None:
    told: Any = check(misread(with_leans(bypass), "w2", "58 in")).as_json()
    rail = next(one for one in told["cuts"] if one["part"] == "head rail")
    mark = next(one for one in told["saw"] if one["part"] == "head rail")

    assert told["shape"]["state"] in ("corrected", "undecided")
    assert (rail["state"], mark["mark"], mark["saw"]) == ("unknown", None, None)
    assert "again" in mark["do"]


def test_what_cannot_be_told_apart_is_not_blamed(bypass: Inputs) -> None:
    inputs = with_leans(bypass)
    inputs["readings"] = [r for r in inputs["readings"] if not r["id"].startswith(("d", "w1"))]
    told: Any = check(misread(inputs, "w2", "58 in")).as_json()

    assert told["shape"]["state"] == "undecided"
    assert told["shape"]["taken_out"] == []
    assert len({i for one in told["shape"]["suspected"] for i in one["readings"]}) > 1
    assert told["state"] == "unknown"


def test_when_none_is_suspected_every_reading_of_the_shape_is_to_be_read_again(
    bypass: Inputs, monkeypatch: pytest.MonkeyPatch
) -> None:
    def nobody_blamed(readings: Any, **how: Any) -> adjustment.Shape:
        return replace(adjusted(readings, **how), state="undecided", removed=(), suspected=())

    adjusted = adjustment.shape_adjust
    monkeypatch.setattr(adjustment, "shape_adjust", nobody_blamed)
    survey = survey_read(Strict(misread(with_leans(bypass), "w1", "58 in")))
    shaping = {each.id for each in survey.readings if each.quantity in SHAPING}

    told = shape_closer(survey, (), house_read(Strict({})))

    assert set(told.doubted) == shaping != {each.id for each in survey.readings}
    assert told.doubted["dleft"] == (
        "Read the diagonal from the left foot at 73 in above the sill again before anything else: "
        "the other readings contradict it."
    )


def test_no_reading_of_the_shape_is_said_with_the_reason(bypass: Inputs) -> None:
    shaping = ("width", "lean", "sill_level", "ceiling_height", "diagonal")
    bypass["readings"] = [r for r in bypass["readings"] if r["quantity"] not in shaping]
    told: Any = check(bypass).as_json()

    assert told["shape"] is None
    assert told["shape_why"].startswith("No reading tells of the shape")


@pytest.mark.parametrize("name", ["w0", "w1", "w2", "lleft", "dright"])
def test_more_doubt_never_turns_tight_into_fits(bypass: Inputs, name: str) -> None:
    inputs = with_leans(bypass)
    before = {(f.rule, f.place): f.state for f in check(inputs).findings}
    for one in inputs["readings"]:
        if one["id"] == name:
            one["tool"] = {"kind": "tape", "accuracy_class": "III", "graduation": "1/4 in"}
    after = {(f.rule, f.place): f.state for f in check(inputs).findings}

    better = [key for key in before if before[key] != "fits" and after.get(key) == "fits"]
    assert better == []
