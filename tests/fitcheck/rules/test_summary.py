"""The verdict says in one sentence what limits, and lists each missing reading once."""

import copy
from collections.abc import Callable
from typing import Any

from fitcheck.check import check
from tests.fitcheck.rules.test_made_glass import asked


def test_a_fit_names_the_nearest_limit_that_was_measured(bypass: dict[str, Any]) -> None:
    """By hand: a fall of 3/16 in is 1/8 in from its least, nearer than any other limit."""
    assert check(bypass).summary == (
        "Size 58 fits: the nearest limit is 1/8 in (3.1 mm) away. Does the sill drain inward by "
        "1/16 in to 3/8 in across its depth? (sill, front to back)"
    )


def test_a_failure_counts_its_rules_and_leads_with_the_worst(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    read(bypass, "curb_depth", "3 in")
    read(bypass, "curb_flat", "1 in")

    said = check(bypass).summary

    assert said.startswith(
        "Size 58 does not fit: 2 rules failed. Is the curb or deck 2 1/2 in flat"
    )
    assert said.endswith("Out by 1 1/2 in (38.1 mm).")


def test_one_rule_is_one_rule(bypass: dict[str, Any], read: Callable[..., None]) -> None:
    read(bypass, "curb_depth", "3 in")

    assert "1 rule failed" in check(bypass).summary


def test_unknown_says_what_to_read_first(bypass: dict[str, Any], read: Callable[..., None]) -> None:
    read(bypass, "curb_flat", None)

    assert check(bypass).summary == (
        "Size 58 is not known to fit: 1 rule cannot be answered. "
        "Read the flat width of the curb or deck."
    )


def test_tight_says_what_care_to_take(bypass: dict[str, Any]) -> None:
    fixing = bypass["sheet"]["fixings"][0]
    fixing["screw"]["length"] = "1 3/4 in"
    del fixing["load"]

    said = check(bypass).summary

    assert said.startswith("Size 58 is tight")
    assert "screw 2 in long, if the kit's maker agrees" in said


def test_a_missing_reading_is_listed_once_with_every_rule_that_waits_for_it(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    for height in ("36 in", "72 in"):
        read(bypass, "width", None, height=height)

    missing = {m.height: m for m in check(bypass).missing}

    assert missing["73 in"].rules == (
        "width.window",
        "width.difference",
        "cut.stock",
        "cut.least",
        "cut.cover",
    )
    assert "head rail, 73 in above the sill" in missing["73 in"].why


def test_glass_made_to_measure_is_called_so_and_not_by_the_name_of_its_one_size() -> None:
    inputs = asked()
    two = copy.deepcopy(inputs)
    two["sheet"]["sizes"].append({**two["sheet"]["sizes"][0], "code": "wide"})

    now, before = check(inputs), check(inputs, version="4")

    assert now.summary.startswith("The glass made to measure ")
    assert before.summary == now.summary.replace("The glass made to measure", "Size made", 1)
    assert check(two).summary.startswith("Size made ")
