"""Readings that lead to no shape, and a reading that only an assumption could check."""

from dataclasses import replace
from typing import Any

from fitcheck.rules.adjustment import AGREE, UNDECIDED, shape_adjust
from fitcheck.rules.length import length_parse
from fitcheck.rules.shape_report import shape_json
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import Reading, Tool, house_read
from tests.fitcheck.rules.simulated_openings import TOP_NM, reading

MID_NM = TOP_NM // 2


def sized(one: Reading, inches: int) -> Reading:
    return replace(one, value=length_parse(f"{inches} in"))


FAR_OFF = (
    sized(reading("a", "width", height=0), 1),
    sized(reading("b", "width", height=TOP_NM), 90),
    sized(reading("l", "sill_level"), 46),
    sized(reading("d", "diagonal", "right", TOP_NM), 73),
)


def test_readings_that_lead_to_no_shape_are_undecided_and_told_so() -> None:
    shape = shape_adjust(FAR_OFF)

    assert not shape.solved.settled
    assert (shape.state, shape_adjust(FAR_OFF, rules=4).state) == (UNDECIDED, "unchecked")
    told: Any = shape_json(shape, [length_parse("0 in")], None, house_read(Strict({})))
    assert told["summary"] == (
        "No shape comes near these readings: at least one of them is far from right."
    )
    assert not told["widths"][0]["trusted"]


def test_what_is_only_assumed_checks_no_reading() -> None:
    coarse = Tool("tape", "II", length_parse("100 in"), False)
    width = sized(reading("a", "width", height=MID_NM, tool=coarse), 58)

    before, shape = shape_adjust((width,), rules=4), shape_adjust((width,))

    assert (before.state, before.freedom) == (AGREE, 1)
    assert (shape.state, shape.freedom, shape.chance) == ("unchecked", 0, 1.0)
