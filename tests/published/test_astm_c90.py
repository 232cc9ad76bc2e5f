"""ASTM C90 face shells of hollow block, from memory; hole depth and the 10 d and 5 d screen are
trade notes, not a standard.
"""

import pytest

from fitcheck.rules.drilling import drilling_cautions
from fitcheck.rules.length import length_parse
from fitcheck.rules.masonry import (
    Anchor,
    Report,
    anchor_room,
    bit_depth_nm,
    face_shell_nm,
    head_joint_nm,
    hole_depth_nm,
    hollow_face_nm,
    report_used,
)


def nm(text: str) -> int:
    return length_parse(text).nm


def anchor(base: str = "block", grouted: str = "no", unit: str | None = "8 in") -> Anchor:
    width = nm(unit) if unit else None
    return Anchor(
        base, nm("1/4 in"), nm("1 1/4 in"), nm("1/2 in"), None, None, None, width, grouted, None
    )


@pytest.mark.parametrize(
    ("unit", "shell"),
    [
        ("3 in", "3/4 in"),
        ("4 in", "3/4 in"),
        ("5 in", "3/4 in"),
        ("6 in", "1 in"),
        ("8 in", "1 1/4 in"),
        ("12 in", "1 1/4 in"),
    ],
)
def test_face_shells_from_memory(unit: str, shell: str) -> None:
    assert face_shell_nm(nm(unit)) == nm(shell)


def test_a_block_thinner_than_every_unit_has_no_face() -> None:
    with pytest.raises(ValueError, match="thin"):
        face_shell_nm(nm("2 in"))


def test_a_quarter_inch_anchor_by_the_rule_of_thumb_and_its_holes() -> None:
    room = anchor_room(anchor())

    assert (room.spacing_nm, room.edge_nm) == (nm("2 1/2 in"), nm("1 1/4 in"))
    assert not room.by_report
    assert hole_depth_nm(nm("1 1/4 in")) == nm("1 3/4 in")
    assert bit_depth_nm(nm("3/8 in") + nm("1/8 in"), nm("1 1/4 in")) == nm("2 1/4 in")


@pytest.mark.parametrize("base", ["block", "brick", "concrete"])
def test_a_hole_in_masonry_is_cleaned_and_moved_off_a_bar_by_trade_notes(base: str) -> None:
    said = " ".join(drilling_cautions("masonry", base))

    assert "clean the hole; move it off a bar" in said
    assert "by their own data sheet only" in said


def test_a_report_replaces_the_rule_of_thumb() -> None:
    """One listed 3/8 in anchor asks 2 1/2 in to the edge at 5 in spacing."""
    report = Report("an invented report", 300.0, 400.0, nm("2 1/2 in"), nm("5 in"))
    own = Anchor("block", nm("3/8 in"), nm("1 in"), 0, None, None, None, None, "no", report)

    room = anchor_room(own)

    assert (room.spacing_nm, room.edge_nm, room.by_report) == (nm("5 in"), nm("2 1/2 in"), True)


def test_only_a_hollow_block_has_a_face_to_reckon_with() -> None:
    assert hollow_face_nm(anchor()) == nm("1 1/4 in")
    assert hollow_face_nm(anchor(grouted="unknown")) == nm("1 1/4 in")
    assert hollow_face_nm(anchor(grouted="yes")) is None
    assert hollow_face_nm(anchor(base="brick")) is None
    assert hollow_face_nm(anchor(base="concrete")) is None
    assert hollow_face_nm(anchor(unit=None)) == nm("3/4 in")


def test_head_joints_are_kept_an_inch_and_a_half_away() -> None:
    assert head_joint_nm() == nm("1 1/2 in")


def test_pull_and_shear_are_added_against_the_report() -> None:
    report = Report("an invented report", 200.0, 400.0, 1, 1)

    assert report_used(report, 100.0, 100.0) == pytest.approx(0.75)
    assert report_used(report, 200.0, 0.0) == pytest.approx(1.0)


@pytest.mark.parametrize("loads", [(0.0, 1.0), (1.0, 0.0)])
def test_a_report_without_loads_is_refused(loads: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="report"):
        report_used(Report("an invented report", *loads, 1, 1), 1.0, 1.0)
