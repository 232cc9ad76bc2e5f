"""Readings are combined, interpolated and disputed as the firm has settled (house values)."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.finding import Measured
from fitcheck.rules.length import length_parse, mm_text
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read

TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1 mm", "hook": False}


def readings(*widths: tuple[str, str], tool: dict[str, Any] | None = None) -> Readings:
    each = [
        {"id": f"r{i}", "quantity": "width", "height": h, "value": v, "tool": tool or TAPE}
        for i, (h, v) in enumerate(widths)
    ]
    opening = {"enclosure": "alcove", "stands_on": "curb"}
    own = Strict({"opening": opening, "readings": each})
    taken = Readings(survey_read(own), house_read(own))
    own.finish()
    return taken


def width(taken: Readings, height: str) -> Measured | Absent:
    return taken.at("width", length_parse(height))


def test_a_height_that_was_read_gives_the_reading_itself() -> None:
    found = width(readings(("0 mm", "1500 mm"), ("1800 mm", "1506 mm")), "1800 mm")

    assert isinstance(found, Measured)
    assert (found.low_nm, found.high_nm) == (1_506_000_000, 1_506_000_000)
    assert found.readings == ("r1",)


def test_between_two_readings_the_straight_line_holds_by_hand() -> None:
    """By hand: 1500 + 6 * 600 / 1800 = 1502."""
    found = width(readings(("0 mm", "1500 mm"), ("1800 mm", "1506 mm")), "600 mm")

    assert isinstance(found, Measured)
    assert (found.low_nm, found.high_nm) == (1_502_000_000, 1_502_000_000)
    assert found.readings == ("r0", "r1")


def test_a_line_that_does_not_divide_is_held_between_two_nanometres() -> None:
    """By hand: 1500 + 1 / 3."""
    found = width(readings(("0 mm", "1500 mm"), ("900 mm", "1501 mm")), "300 mm")

    assert isinstance(found, Measured)
    assert (found.low_nm, found.high_nm) == (1_500_333_333, 1_500_333_334)


def test_only_the_two_nearest_readings_count() -> None:
    taken = readings(("0 mm", "1500 mm"), ("900 mm", "1490 mm"), ("1800 mm", "1500 mm"))

    found = width(taken, "450 mm")

    assert isinstance(found, Measured)
    assert found.low_nm == 1_495_000_000


def test_a_little_beyond_the_outermost_reading_the_line_is_followed_with_more_doubt() -> None:
    taken = readings(("0 mm", "1500 mm"), ("1800 mm", "1509 mm"))
    inside, beyond = width(taken, "1800 mm"), width(taken, "1900 mm")

    assert isinstance(inside, Measured)
    assert isinstance(beyond, Measured)
    assert beyond.low_nm == 1_509_500_000
    assert beyond.u_mm > inside.u_mm


@pytest.mark.parametrize(("height", "known"), [("1952.4 mm", True), ("1952.5 mm", False)])
def test_six_inches_beyond_is_the_end_of_it(height: str, known: bool) -> None:
    taken = readings(("0 mm", "1500 mm"), ("1800 mm", "1509 mm"))

    assert isinstance(width(taken, height), Measured) is known


@pytest.mark.parametrize(("height", "known"), [("50.8 mm", True), ("50.9 mm", False)])
def test_a_single_width_answers_for_its_own_height_only(height: str, known: bool) -> None:
    assert isinstance(width(readings(("0 mm", "1500 mm")), height), Measured) is known


def test_two_that_agree_give_their_mean_and_no_less_doubt() -> None:
    one = width(readings(("0 mm", "1500 mm")), "0 mm")
    two = width(readings(("0 mm", "1500 mm"), ("0 mm", "1501 mm")), "0 mm")

    assert isinstance(one, Measured)
    assert isinstance(two, Measured)
    assert two.low_nm == 1_500_500_000
    assert two.u_mm >= one.u_mm


def test_a_burned_inch_is_a_disagreement_and_no_clock_decides() -> None:
    taken = readings(("0 mm", "1500 mm"), ("0 mm", "1525.4 mm"), ("1800 mm", "1500 mm"))

    at_the_sill, above = width(taken, "0 mm"), width(taken, "900 mm")

    assert isinstance(at_the_sill, Absent)
    assert isinstance(above, Absent)
    assert taken.disagreements[0].apart_nm == 25_400_000
    assert taken.disagreements[0].readings == ("r0", "r1")


def test_a_coarser_tool_leaves_more_doubt() -> None:
    fine = width(readings(("0 mm", "1500 mm")), "0 mm")
    coarse_tape = {**TAPE, "accuracy_class": "none"}
    coarse = width(readings(("0 mm", "1500 mm"), tool=coarse_tape), "0 mm")

    assert isinstance(fine, Measured)
    assert isinstance(coarse, Measured)
    assert coarse.u_mm > fine.u_mm


@pytest.mark.parametrize(
    ("tool", "u_mm"),
    [
        ({**TAPE}, 0.7047),
        ({**TAPE, "hook": True}, 0.7767),
        ({**TAPE, "accuracy_class": "h44", "graduation": "1/16 in"}, 0.8186),
        ({**TAPE, "kind": "laser", "accuracy_class": "none"}, 1.0408),
    ],
    ids=["class II", "class II, hooked", "Handbook 44", "laser"],
)
def test_doubt_of_one_reading_by_hand(tool: dict[str, Any], u_mm: float) -> None:
    """By hand: sqrt((error / sqrt 3)^2 + (graduation / sqrt 12)^2 + 0.5^2) at 1524 mm."""
    found = width(readings(("0 mm", "1524 mm"), tool=tool), "0 mm")

    assert isinstance(found, Measured)
    assert found.u_mm == pytest.approx(u_mm, abs=0.0001)


TENTHS = st.integers(14_000, 16_000)


@given(
    sill=st.lists(TENTHS, min_size=1, max_size=3),
    head=st.lists(TENTHS, min_size=1, max_size=3),
    height=st.integers(0, 19_500),
)
def test_the_exact_line_always_lies_between_the_two_nanometres(
    sill: list[int], head: list[int], height: int
) -> None:
    """The exact value is worked out here in fractions, readings 1800 mm apart."""
    coarse = {**TAPE, "kind": "tape", "accuracy_class": "none", "graduation": "1 m"}
    taken = readings(
        *(("0 mm", mm_text(each * 100_000)) for each in sill),
        *(("1800 mm", mm_text(each * 100_000)) for each in head),
        tool=coarse,
    )
    below, above = Fraction(sum(sill), len(sill)), Fraction(sum(head), len(head))
    exact = (below + (above - below) * Fraction(height, 18_000)) * 100_000

    found = width(taken, mm_text(height * 100_000))

    assert isinstance(found, Measured)
    assert found.low_nm <= exact <= found.high_nm
    assert found.high_nm - found.low_nm <= 4


def test_two_places_of_one_quantity_are_taken_at_their_worst() -> None:
    each = [
        {
            "id": h,
            "quantity": "ceiling_height",
            "side": "left",
            "height": h,
            "value": v,
            "tool": TAPE,
        }
        for h, v in (("0 mm", "2400 mm"), ("100 mm", "2390 mm"))
    ]
    own = Strict({"opening": {"enclosure": "alcove", "stands_on": "curb"}, "readings": each})

    found = Readings(survey_read(own), house_read(own)).single("ceiling_height", "left")

    assert isinstance(found, Measured)
    assert (found.low_nm, found.high_nm) == (2_390_000_000, 2_400_000_000)


def test_what_readings_may_differ_by_goes_by_the_firms_factor_by_hand() -> None:
    """By hand: 2 x sqrt 2 x 0.7047 = 1.993 mm for two class II readings at 1524 mm."""
    agree = width(readings(("0 mm", "1524 mm"), ("0 mm", "1522.1 mm")), "0 mm")
    differ = width(readings(("0 mm", "1524 mm"), ("0 mm", "1522 mm")), "0 mm")

    assert isinstance(agree, Measured)
    assert isinstance(differ, Absent)
