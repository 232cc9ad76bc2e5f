"""The width is judged at every height that the sheet names, and the size follows from that."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check as checked
from fitcheck.rules.finding import Measured
from fitcheck.rules.verdict import Verdict


def check(inputs: dict[str, Any]) -> Verdict:
    """By the first rules: one reading alone is changed here, which the others would contradict."""
    return checked(inputs, version="1")


@pytest.mark.parametrize(
    ("width", "state"),
    [
        ("54 11/16 in", "fails"),
        ("54 3/4 in", "tight"),
        ("55 in", "fits"),
        ("58 3/4 in", "tight"),
        ("58 13/16 in", "fails"),
    ],
)
def test_both_sides_of_both_limits(
    bypass: dict[str, Any],
    read: Callable[..., None],
    finding: Callable[..., Any],
    width: str,
    state: str,
) -> None:
    bypass["size"] = "58"
    read(bypass, "width", width, height="0 in")

    assert finding(check(bypass), "width.window", "0 in above").state == state


def test_the_margin_is_to_the_nearer_limit(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    read(bypass, "width", "58 1/2 in", height="0 in")
    bypass["size"] = "58"

    found = finding(check(bypass), "width.window", "0 in above").as_json()

    assert found["sense"] == "most"
    assert found["limit"]["inch"] == "58 3/4 in"
    assert found["margin"]["inch"] == "1/4 in"
    assert found["source"]["page"] == "2"


def test_one_width_alone_never_answers_for_the_rail(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    read(bypass, "width", None, height="36 in")
    read(bypass, "width", None, height="72 in")

    verdict = check(bypass)

    assert finding(verdict, "width.window", "0 in above").state == "fits"
    assert finding(verdict, "width.window", "73 in above").state == "unknown"
    assert verdict.state == "unknown"
    needed = {m.height for m in verdict.missing if m.quantity == "width"}
    assert needed == {"36 in", "73 in"}


def test_the_size_with_the_largest_least_margin_is_chosen(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    for height in ("0 in", "36 in", "72 in"):
        read(bypass, "width", "52 in", height=height)

    assert check(bypass).size == "54"


def test_no_size_that_holds_all_widths_fails_by_the_name_of_the_nearest(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    for height in ("0 in", "36 in", "72 in"):
        read(bypass, "width", "59 in", height=height)

    verdict = check(bypass)

    assert verdict.size == "58"
    assert verdict.state == "fails"
    assert "Size 58 does not fit" in verdict.summary


def test_without_any_width_no_size_is_chosen_and_every_height_is_asked_for(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    for height in ("0 in", "36 in", "72 in"):
        read(bypass, "width", None, height=height)

    verdict = check(bypass)

    assert verdict.size is None
    assert verdict.state == "unknown"
    assert {m.height for m in verdict.missing if m.quantity == "width"} == {
        "0 in",
        "36 in",
        "73 in",
    }


@pytest.mark.parametrize(("top", "state"), [("56 1/2 in", "fits"), ("56 5/8 in", "fails")])
def test_a_taper_beyond_the_sheet_fails_though_every_width_is_in_its_window(
    bypass: dict[str, Any],
    read: Callable[..., None],
    finding: Callable[..., Any],
    top: str,
    state: str,
) -> None:
    """By hand: 56 1/4 in at 36 in, so the line adds 1/36 of the taper by 73 in."""
    bypass["sheet"]["width_difference"]["most"] = "3/8 in"
    read(bypass, "width", "56 1/4 in", height="0 in")
    read(bypass, "width", top, height="72 in")

    verdict = check(bypass)

    assert finding(verdict, "width.difference").state == state
    assert finding(verdict, "width.window", "73 in").state == "fits"


def test_a_difference_already_too_large_fails_while_a_width_is_still_to_be_read(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    read(bypass, "width", "55 in", height="0 in")
    read(bypass, "width", None, height="72 in")

    assert finding(check(bypass), "width.difference").state == "fails"


def test_the_difference_carries_the_doubt_of_both_widths(
    bypass: dict[str, Any], finding: Callable[..., Any]
) -> None:
    verdict = check(bypass)
    difference = finding(verdict, "width.difference").margin
    sill = finding(verdict, "width.window", "0 in above").margin
    top = finding(verdict, "width.window", "73 in above").margin

    assert isinstance(difference, Measured)
    assert difference.u_mm == pytest.approx((sill.u_mm**2 + top.u_mm**2) ** 0.5)


def test_a_size_is_chosen_by_its_tightest_height(
    bypass: dict[str, Any], read: Callable[..., None]
) -> None:
    """By hand: 54 has 1/2 in at the sill and 1 1/2 above; 58 has 1 in at the sill, -1/4 above."""
    size = bypass["sheet"]["sizes"]
    size[0]["windows"] = [
        {"height": "0 in", "least": "50 in", "most": "56 1/2 in"},
        {"height": "72 in", "least": "50 in", "most": "55 in"},
    ]
    size[1]["windows"] = [
        {"height": "0 in", "least": "55 in", "most": "60 in"},
        {"height": "72 in", "least": "53 3/4 in", "most": "60 in"},
    ]
    read(bypass, "width", "56 in", height="0 in")
    read(bypass, "width", "53 1/2 in", height="72 in")

    assert check(bypass).size == "54"


def test_a_sheet_that_names_one_height_compares_every_width_read(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    bypass["sheet"] |= {"rail_height": None, "cuts": []}
    for size in bypass["sheet"]["sizes"]:
        size["windows"] = size["windows"][:1]
    read(bypass, "width", "57 in", height="36 in")

    assert finding(check(bypass), "width.difference").state == "fails"


def test_a_difference_needs_a_second_width(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    bypass["sheet"] |= {"rail_height": None, "cuts": []}
    for size in bypass["sheet"]["sizes"]:
        size["windows"] = size["windows"][:1]
    read(bypass, "width", None, height="36 in")
    read(bypass, "width", None, height="72 in")

    verdict = check(bypass)

    assert finding(verdict, "width.difference").state == "unknown"
    assert [(m.quantity, m.height) for m in verdict.missing] == [("width", None)]
    assert finding(verdict, "width.difference").do == "Read the width at a second height."


def test_one_width_that_answers_for_two_heights_is_no_difference(
    bypass: dict[str, Any], read: Callable[..., None], finding: Callable[..., Any]
) -> None:
    """Heights 72 and 73 in lie within the tolerance of one reading at 72 in."""
    bypass["sheet"] |= {"cuts": []}
    for size in bypass["sheet"]["sizes"]:
        size["windows"] = [{**size["windows"][0], "height": "72 in"}]
    read(bypass, "width", None, height="0 in")
    read(bypass, "width", None, height="36 in")

    verdict = check(bypass)

    assert finding(verdict, "width.window", "72 in").state == "fits"
    assert finding(verdict, "width.difference").state == "unknown"
