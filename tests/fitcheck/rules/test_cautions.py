"""Where the work can hurt someone the verdict itself says so, and says who outranks it."""

from typing import Any

import pytest

from fitcheck.check import check


def codes(inputs: dict[str, Any]) -> list[str]:
    return [caution.code for caution in check(inputs).cautions]


def test_every_verdict_carries_the_standing_cautions_and_ends_with_who_outranks_it(
    bypass: dict[str, Any],
) -> None:
    found = codes(bypass)

    assert found[:6] == ["protection", "services", "two_people", "rests", "tempered", "no_cutting"]
    assert found[-1] == "outranked"


@pytest.mark.parametrize(
    ("year", "expected"),
    [
        (1977, {"lead", "asbestos"}),
        (1978, {"asbestos"}),
        (1980, {"asbestos"}),
        (1981, set()),
        (None, {"age"}),
    ],
)
def test_old_houses(bypass: dict[str, Any], year: int | None, expected: set[str]) -> None:
    bypass["opening"]["year_built"] = year

    assert {"lead", "asbestos", "age"} & set(codes(bypass)) == expected


def test_dust_is_named_for_tile_and_for_what_is_not_known_but_not_for_bare_acrylic(
    bypass: dict[str, Any],
) -> None:
    assert "dust" in codes(bypass)

    for zone in bypass["zones"]:
        zone |= {"finish": "acrylic", "backing": "none"}
    assert "dust" not in codes(bypass)

    bypass["zones"] = []
    assert "dust" in codes(bypass)


def test_cement_board_is_dusty_under_any_finish(bypass: dict[str, Any]) -> None:
    for zone in bypass["zones"]:
        zone |= {"finish": "acrylic", "backing": "cement_board"}

    assert "dust" in codes(bypass)


@pytest.mark.parametrize(
    ("convention", "named"), [("iso_11228_1", "ISO 11228-1"), ("hse_l23", "HSE L23")]
)
def test_the_lifting_convention_is_named(
    bypass: dict[str, Any], convention: str, named: str
) -> None:
    bypass["house"]["lift_convention"] = convention

    (said,) = [c.text for c in check(bypass).cautions if c.code == "lift_only"]

    assert named in said
