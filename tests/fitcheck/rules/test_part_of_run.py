"""A level or fall read over a part of the sill is told for all of it, or asked for."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.catalogue import catalogue_compile
from fitcheck.rules.finding import Measured
from fitcheck.rules.length import mm_text
from fitcheck.rules.part_of_run import level_over_all
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.which_kits import asked_about, sizes_compared

Inputs = dict[str, Any]
Find = Callable[..., Any]


@pytest.fixture
def case(bypass: Inputs) -> Inputs:
    """58 in wide everywhere, and nothing that would contradict the level."""
    bypass["readings"] = [r for r in bypass["readings"] if r["quantity"] != "diagonal"]
    for one in bypass["readings"]:
        if one["quantity"] == "width":
            one["value"] = "58 in"
    return bypass


def put(inputs: Inputs, quantity: str, value: str, over: str | None) -> None:
    for one in inputs["readings"]:
        if one["quantity"] == quantity:
            one |= {"value": value, "over": over}


def without(inputs: Inputs, quantity: str) -> None:
    inputs["readings"] = [r for r in inputs["readings"] if r["quantity"] != quantity]


@pytest.mark.parametrize(
    ("value", "over", "state", "margin"),
    [
        # by hand: 1/8 in over 24 in is 58/192 in over 58 in; 3/16 in less that is -2.910417 mm
        ("1/8 in", "24 in", "fails", "-2.911 mm"),
        ("-1/8 in", "24 in", "fails", "-2.911 mm"),
        # 1/32 in over 29 in is 1/16 in over 58 in
        ("1/32 in", "29 in", "fits", "3.175 mm"),
        ("1/8 in", "58 in", "fits", "1.5875 mm"),
        ("1/8 in", None, "fits", "1.5875 mm"),
    ],
)
def test_a_level_over_a_part_of_the_sill_counts_for_all_of_it(
    case: Inputs, finding: Find, value: str, over: str | None, state: str, margin: str
) -> None:
    put(case, "sill_level", value, over)

    found = finding(check(case), "sill.level")

    assert (found.state, found.as_json()["margin"]["mm"]) == (state, margin)


def test_its_doubt_grows_with_it(case: Inputs, finding: Find) -> None:
    put(case, "sill_level", "1/32 in", "58 in")
    whole = finding(check(case), "sill.level").margin.u_mm
    put(case, "sill_level", "1/32 in", "29 in")

    half = finding(check(case), "sill.level").margin.u_mm

    assert half > 1.5 * whole


def test_the_rules_before_took_it_as_read(case: Inputs, finding: Find) -> None:
    put(case, "sill_level", "1/8 in", "24 in")

    assert finding(check(case, version="4"), "sill.level").state != "fails"


def test_of_two_spans_the_worst_counts(case: Inputs) -> None:
    put(case, "sill_level", "1/32 in", "29 in")
    level = next(r for r in case["readings"] if r["quantity"] == "sill_level")
    case["readings"].append({**level, "id": "again", "value": "-1/8 in", "over": None})
    own = Strict({name: case[name] for name in ("opening", "readings", "zones")})
    house = house_read(own)

    found = level_over_all(Readings(survey_read(own), house), house)

    assert isinstance(found, Measured)
    assert (mm_text(found.low_nm), mm_text(found.high_nm)) == ("-3.175 mm", "1.5875 mm")


def test_without_a_width_the_level_of_a_part_asks_for_one(case: Inputs, finding: Find) -> None:
    put(case, "sill_level", "1/32 in", "24 in")
    without(case, "width")

    found = finding(check(case), "sill.level")

    assert (found.state, found.do) == ("unknown", "Read the width at 0 in above the sill.")


def test_a_span_longer_than_the_sill_is_asked_for_again(case: Inputs, finding: Find) -> None:
    put(case, "sill_level", "1/32 in", "96 in")

    found = finding(check(case), "sill.level")

    assert found.state == "unknown"
    assert found.do == (
        "It was read over 96 in (2438.4 mm), but the sill is only 58 in (1473.2 mm) long. "
        "Read the level of the sill over its run."
    )


def test_a_fall_over_a_part_of_the_depth_counts_for_all_of_it(case: Inputs, finding: Find) -> None:
    put(case, "curb_depth", "4 in", None)
    put(case, "sill_fall", "1/4 in", "2 in")
    assert finding(check(case), "sill.fall").state == "fails"  # 1/2 in over 4 in; 3/8 in at most
    assert finding(check(case, version="4"), "sill.fall").state != "fails"

    put(case, "sill_fall", "1/4 in", "9 in")
    found = finding(check(case), "sill.fall")
    assert (found.state, "is only 4 in (101.6 mm) deep" in found.do) == ("unknown", True)

    without(case, "curb_depth")
    found = finding(check(case), "sill.fall")
    assert (found.state, found.do) == ("unknown", "Read the depth of the curb or deck.")


@pytest.mark.parametrize(
    ("quantity", "value", "over"),
    [("sill_level", "1/8 in", "24 in"), ("sill_fall", "1/4 in", "2 in")],
)
def test_a_catalogue_goes_by_the_same_rise(
    case: Inputs, quantity: str, value: str, over: str
) -> None:
    put(case, "curb_depth", "4 in", None)
    sheet = sheet_parse(case["sheet"])
    catalogue = catalogue_compile([("kit", sheet)])
    own = Strict({name: case[name] for name in ("opening", "readings", "zones")})

    def states() -> list[int]:
        asked = asked_about(survey_read(own), house_read(own))
        return [int(one) for one in sizes_compared(catalogue, asked).states]

    before = states()
    put(case, quantity, value, over)

    assert 0 in before
    assert states() == [3] * len(before)
