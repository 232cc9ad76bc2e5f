"""The stud must lie where the bracket goes, on both sides, at that height."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check

Read = Callable[..., None]
Find = Callable[..., Any]


@pytest.mark.parametrize(
    ("centre", "state", "hit"),
    [
        ("1 11/16 in", "fails", "missed"),
        ("1 3/4 in", "tight", "hit"),
        ("3 in", "fits", "hit"),
        ("4 9/16 in", "fails", "missed"),
        (None, "unknown", "unknown"),
    ],
)
def test_the_setback_decides_whether_the_bracket_hits(
    bypass: dict[str, Any], read: Read, finding: Find, centre: str | None, state: str, hit: str
) -> None:
    read(bypass, "backing_centre", centre, side="right")

    verdict = check(bypass)
    row = next(
        f for f in verdict.fixings if f.surface == "right_wall" and f.place == "rail bracket"
    )

    assert finding(verdict, "backing.setback", "right").state == state
    assert row.backing_hit == hit
    assert finding(verdict, "backing.setback", "left").state == "fits"


def test_a_stud_read_at_another_height_does_not_count(
    bypass: dict[str, Any], read: Read, finding: Find
) -> None:
    read(bypass, "backing_centre", "3 in", side="left", height="36 in")
    read(bypass, "backing_centre", None, side="left", height="73 in")

    assert finding(check(bypass), "backing.setback", "left").state == "unknown"


def test_without_a_rule_of_the_sheet_a_stud_must_be_found_but_blocking_runs_through(
    bypass: dict[str, Any],
) -> None:
    bypass["sheet"]["backing"] = []
    bypass["zones"][0]["structure"] = "blocking"

    rows = {f.surface: f for f in check(bypass).fixings if f.place == "rail bracket"}

    assert rows["left_wall"].backing_hit == "hit"
    assert rows["right_wall"].backing_hit == "unknown"
    assert "centre of the stud" in " ".join(rows["right_wall"].questions)
    assert rows["right_wall"].state == "unknown"
