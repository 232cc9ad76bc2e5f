"""A cut comes from the distance where the part sits, and never rounds long."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.length import length_parse

Read = Callable[..., None]
Find = Callable[..., Any]


def cut(inputs: dict[str, Any], part: str) -> dict[str, Any]:
    return next(c.as_json() for c in check(inputs).cuts if c.part == part)


def leave_something(inputs: dict[str, Any]) -> None:
    """Narrow what size 58 takes at the sill, so that 55 1/4 in off leaves something of every part."""
    inputs["sheet"]["sizes"][1]["windows"][0]["least"] = "55 1/2 in"


def as_fixed(inputs: dict[str, Any], value: str, reading_id: str = "fixed") -> None:
    inputs["readings"].append(
        {
            **inputs["readings"][0],
            "id": reading_id,
            "quantity": "between_brackets",
            "height": "73 in",
            "value": value,
        }
    )


def test_a_rail_is_predicted_from_the_width_at_its_own_height(bypass: dict[str, Any]) -> None:
    found = cut(bypass, "head rail")

    assert found["status"] == "predicted"
    assert found["height"] == "73 in"


def test_the_distance_read_between_the_brackets_replaces_the_prediction_by_hand(
    bypass: dict[str, Any],
) -> None:
    """By hand: 56 3/16 in less 3/8 in is 55 13/16 in; 58 1/2 less that is 2 11/16 in."""
    as_fixed(bypass, "56 3/16 in")

    found = cut(bypass, "head rail")

    assert found["status"] == "as fixed"
    assert found["length"] == {
        "mm": "1417.6375 mm",
        "inch": "55 13/16 in",
        "inch_mark": "1/16 in",
        "rounded": "down",
    }
    assert found["waste"]["inch"] == "2 11/16 in"


def test_two_as_fixed_readings_that_differ_release_no_cut(
    bypass: dict[str, Any], finding: Find
) -> None:
    as_fixed(bypass, "56 3/16 in", "one")
    as_fixed(bypass, "55 3/16 in", "two")

    verdict = check(bypass)

    assert finding(verdict, "cut.stock", "head rail").state == "unknown"
    assert cut(bypass, "head rail")["length"] is None
    assert "differ by 1 in" in finding(verdict, "cut.stock", "head rail").do


def test_a_length_between_two_marks_goes_to_the_lower(bypass: dict[str, Any], read: Read) -> None:
    """By hand: 1431.1 mm less 13/16 in (20.6375 mm) is 1410.4625 mm, 55.53 in."""
    read(bypass, "width", "1431.1 mm", height="0 in")

    found = cut(bypass, "threshold")["length"]

    assert found["mm"] == "1410.4625 mm"
    assert found["inch"] == "55 1/2 in"
    assert length_parse(found["inch"]).nm <= length_parse(found).nm


@pytest.mark.parametrize(("stock", "state"), [("55 in", "fails"), ("56 in", "fits")])
def test_stock_that_is_too_short_fails(
    bypass: dict[str, Any], finding: Find, stock: str, state: str
) -> None:
    bypass["sheet"]["cuts"][2]["stock"] = stock

    assert finding(check(bypass), "cut.stock", "threshold").state == state


@pytest.mark.parametrize(
    ("limit", "value", "state"),
    [("least", "56 in", "fails"), ("least", "55 in", "fits"), ("most", "55 in", "fails")],
)
def test_a_part_may_not_be_cut_shorter_or_left_longer_than_the_sheet_says(
    bypass: dict[str, Any], finding: Find, limit: str, value: str, state: str
) -> None:
    bypass["sheet"]["cuts"][2][limit] = value

    assert finding(check(bypass), f"cut.{limit}", "threshold").state == state


@pytest.mark.parametrize(("allowance", "state"), [("1/4 in", "fits"), ("1 mm", "tight")])
def test_end_covers_must_hide_what_the_readings_may_be_off(
    bypass: dict[str, Any], finding: Find, allowance: str, state: str
) -> None:
    bypass["sheet"]["cuts"][2]["allowance"] = allowance

    assert finding(check(bypass), "cut.cover", "threshold").state == state


def test_only_the_cuts_of_the_chosen_size_are_listed(bypass: dict[str, Any]) -> None:
    parts = [(c.part, c.stock.entered) for c in check(bypass).cuts]

    assert parts == [("head rail", "58 1/2 in"), ("threshold", "58 in")]


@pytest.mark.parametrize(("deduct", "state"), [("55 1/4 in", "fails"), ("55 3/16 in", "fits")])
def test_a_cut_that_leaves_no_inch_fails_and_has_no_length(
    bypass: dict[str, Any], finding: Find, deduct: str, state: str
) -> None:
    """By hand: 56 13/64 in at the sill less 55 3/16 in is 1 1/64 in; 1 in is the least that is sawn."""
    leave_something(bypass)
    bypass["sheet"]["cuts"][2] |= {"deduct": deduct}
    for name in ("least", "most", "allowance"):
        bypass["sheet"]["cuts"][2].pop(name, None)

    verdict = check(bypass)
    told: Any = verdict.as_json()
    row = next(one for one in told["saw"] if one["part"] == "threshold")

    assert cut(bypass, "threshold")["state"] == state
    if state == "fits":
        assert (cut(bypass, "threshold")["length"]["inch"], row["mark"]) == ("1 in", "1 in")
        return
    assert verdict.state == "fails"
    assert finding(verdict, "cut.least", "threshold").state == "fails"
    assert cut(bypass, "threshold")["length"] is None
    assert (row["mark"], row["saw"]) == (None, None)
    assert row["do"] == "Do not cut: nothing of the threshold is left to be sawn."


def test_a_sheet_that_leaves_nothing_in_any_opening_is_asked_about_and_nothing_is_sawn(
    bypass: dict[str, Any], finding: Find
) -> None:
    bypass["sheet"]["cuts"][2] |= {"deduct": "100 in"}
    verdict = check(bypass)

    assert finding(verdict, "cut.least", "threshold").state == "unknown"
    assert finding(verdict, "sheet.agrees").do.startswith("Ask the kit's maker")
    assert cut(bypass, "threshold")["length"] is None


def test_brackets_that_take_more_than_the_width_leave_no_distance(
    bypass: dict[str, Any], finding: Find
) -> None:
    bypass["sheet"]["cuts"][0] |= {"brackets_take": "80 in", "least": None}

    verdict = check(bypass)

    assert finding(verdict, "cut.least", "head rail").state == "unknown"  # the sheet denies itself
    found = cut(bypass, "head rail")
    assert (found["distance"], found["length"]) == (None, None)


def test_a_sheets_own_least_below_an_inch_is_no_leave_to_saw_less(
    bypass: dict[str, Any], finding: Find
) -> None:
    leave_something(bypass)
    bypass["sheet"]["cuts"][2] |= {"deduct": "55 1/4 in", "least": "1/2 in"}

    found = finding(check(bypass), "cut.least", "threshold")

    assert (found.state, found.limit_nm) == ("fails", 25_400_000)
    assert found.source.status == "house setting"
