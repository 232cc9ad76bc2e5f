"""Saw marks, panes and sealant in a verdict: is each told from the sheet, and none of it guessed?"""

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitcheck.check import check
from fitcheck.rules.length import length_parse
from tests.fitcheck.rules.test_what_is_borne import Inputs, case


def rail_of(told: Any) -> Any:
    return next(one for one in told["saw"] if one["part"] == "head rail")


def as_fixed(inputs: Inputs, *values: str) -> Inputs:
    tool = inputs["readings"][0]["tool"]
    for n, value in enumerate(values):
        inputs["readings"].append(
            {
                "id": f"fixed-{n}",
                "quantity": "between_brackets",
                "height": "71 1/4 in",
                "value": value,
                "tool": tool,
                "read_by": f"Person {n}",
            }
        )
    return inputs


def test_a_mark_is_foretold_with_what_the_brackets_take_and_never_released() -> None:
    told: Any = check(case("s-01")).as_json()
    mark = rail_of(told)
    width = float(next(w for w in told["cuts"] if w["part"] == "head rail")["distance"]["mm"][:-3])

    # 1 1/8 in for the brackets, 5/16 in for the sheet's deduction
    assert length_parse(mark["mark"]).nm / 1e6 == pytest.approx(width - 7.9375, abs=1.6)
    assert mark["released"] is False
    assert mark["rounded"].startswith("down")
    assert (mark["kerf"], mark["kerf_from"]) == ("2.38125 mm", "kit sheet")
    assert "saw off the" in mark["saw"]
    assert "waste side" in mark["saw"]
    assert float(mark["agree_within"].split()[0]) > 1


@pytest.mark.parametrize(
    ("value", "state"), [("57 1/16 in", "fits"), ("56 1/16 in", "fails"), ("58 1/16 in", "fails")]
)
def test_the_distance_as_fixed_must_agree_with_the_survey(value: str, state: str) -> None:
    inputs = as_fixed(case("s-01"), value, value)
    (found,) = [f for f in check(inputs).findings if f.rule == "mark.agreement"]

    assert found.state == state
    if state == "fails":
        assert "about one inch" in found.do


def test_what_must_agree_is_said_as_a_tape_reads_it() -> None:
    """Seven digits of a millimetre are on no tape; versions before said them, and keep on."""
    now: Any = check(case("s-01")).as_json()
    before: Any = check(case("s-01"), version="4").as_json()

    assert rail_of(now)["do"].endswith("it must be 57 in (1446.8 mm) to 57 1/8 in (1452.1 mm).")
    assert rail_of(before)["do"].endswith(
        "it must be 57 in (1446.720572 mm) to 57 1/8 in (1452.120572 mm)."
    )


def test_without_what_the_brackets_take_survey_and_site_are_not_compared() -> None:
    inputs = as_fixed(case("s-01"), "58 3/16 in", "58 3/16 in")
    for cut in inputs["sheet"]["cuts"]:
        cut.pop("brackets_take", None)
    assert "mark.agreement" not in {f.rule for f in check(inputs).findings}
    fresh = case("s-01")
    for cut in fresh["sheet"]["cuts"]:
        cut.pop("brackets_take", None)
    mark = rail_of(check(fresh).as_json())
    assert (mark["saw"], mark["agree_within"]) == (None, None)
    assert "does not say" in mark["do"]


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.integers(0, 400), st.integers(1, 400))
def test_a_wider_opening_never_needs_a_shorter_rail(narrow: int, more: int) -> None:
    marks = []
    for step in (narrow, narrow + more):
        inputs = case("s-04")
        for one in inputs["readings"]:
            if one["quantity"] == "width":
                one["value"] = f"{1480 + step / 20:.2f} mm"
        mark = rail_of(check(inputs).as_json())["mark"]
        if mark is not None:
            marks.append(length_parse(mark).nm)

    assert marks == sorted(marks)


def test_a_pane_tells_the_mark_to_look_for_by_the_sheets_edition() -> None:
    inch: Any = check(case("s-01")).as_json()["panes"]
    metric: Any = check(case("s-04")).as_json()["panes"]

    assert [one["safety"]["category"] for one in (*inch, *metric)] == ["II"] * 4
    assert "16 CFR 1201 Category II" in inch[0]["safety"]["look_for"]
    assert "EN 12150" in metric[0]["safety"]["look_for"]
    assert metric[0]["thickness_least"] == "7.7 mm"
    assert inch[0]["centre"]["up"]["mm"] == "890.5875 mm"
    without = case("s-07")
    told: Any = check(without).as_json()["panes"]
    assert all(one["safety"] is None and "does not say" in one["why"] for one in told)


@pytest.mark.parametrize(
    ("side", "handles"),
    [("left", ["left", "right"]), ("right", ["right", "left"]), ("unknown", ["unknown"] * 2)],
)
def test_the_handle_follows_the_shower_head(side: str, handles: list[str]) -> None:
    inputs = case("s-01")
    inputs["opening"]["shower_head_side"] = side

    told: Any = check(inputs).as_json()
    assert [one["handle"] for one in told["panes"]] == handles


def test_a_panel_is_screened_for_the_lift_and_the_hands_stay_the_sheets() -> None:
    told: Any = check(case("s-01")).as_json()
    lift = told["panes"][0]["lift"]

    assert lift["people"] == told["hands_needed"] == 2
    assert "screen of the lift only" in lift["method"]
    assert lift["state"] == ("fits" if float(lift["index"]) <= 1 else "fails")


def test_sealant_is_counted_in_cartridges_and_cures_by_the_longer_window() -> None:
    told: Any = check(case("s-01")).as_json()["sealing"]

    # three fillets of 3/16 in: 2 x 71 1/4 in + 58 1/4 in, half of leg squared, 15 % for waste
    volume = 0.5 * 4.7625**2 * (2 * 1809.75 + 1481.1) / 1000
    assert float(told["volume"].split()[0]) == pytest.approx(volume, abs=0.2)
    assert told["cartridges"] == 1
    assert told["air"] == {"celsius": "20", "humidity": "50"}
    # (4.7625 / 4)^2 days of the product, 30 h of the kit's sheet
    assert (told["cure"]["hours"], told["cure"]["because"]) == ("34.1", "product data sheet")
    assert "34.1 h after the last bead" in told["do"]


def test_air_that_the_product_does_not_speak_of_is_asked_about() -> None:
    inputs = case("s-01")
    inputs["sheet"]["sealant_product"]["celsius"] = "2"
    told: Any = check(inputs).as_json()["sealing"]

    assert told["cure"] is None
    assert told["do"].startswith("Ask the maker")


def test_the_chance_of_all_lies_between_its_bounds() -> None:
    told: Any = check(case("s-05")).as_json()
    chances = [float(f["chance"]) for f in told["findings"] if f["chance"]]

    assert float(told["chance"]["at_most"]) == pytest.approx(min(chances), abs=1e-3)
    assert float(told["chance"]["at_least"]) <= float(told["chance"]["at_most"])
    assert told["chance"]["weakest"]["rule"] == "width.difference"
