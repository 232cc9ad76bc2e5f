"""What can no rule answer, in exactly which words does it say so, and does it answer right beside that?"""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from fitcheck.rules import (
    adjustment,
    brackets,
    business_days,
    catalogue,
    chi_square,
    corners,
    cure,
    handling,
    joints,
    lateral,
    lateral_gap,
    least_squares,
    length,
    lifting,
    masonry,
    packing,
    pane_edition,
    pane_geometry,
    rail_beam,
    rail_worst,
    screws,
    shower_code,
    steel_stud,
    wood_screw,
)
from fitcheck.rules.length import LengthError, length_parse
from fitcheck.rules.pane_geometry import Point

ROUND = (1.0, 1.0, 1.0, 1.0)


def calendar(*rest: int) -> business_days.Calendar:
    return business_days.Calendar("office", rest, "none")


def dowel(**changed: Any) -> lateral.Dowel:
    sizes = {"diameter_in": 0.19, "main_in": 1.5, "side_in": 0.1, "main_psi": 3000.0}
    rest = {"side_psi": 60000.0, "yield_psi": 80000.0, "reduction": ROUND}
    return lateral.Dowel(**{**sizes, **rest, **changed})


def train(**changed: float) -> rail_worst.Train:
    given = {"weight": 50.0, "spacing": 20.0, "travel_from": 0.0, "travel_to": 10.0}
    return rail_worst.Train(**{**given, **changed})


def sheets(**changed: float) -> steel_stud.Sheets:
    given = {"head_in": 0.0346, "tip_in": 0.0346, "head_psi": 45000.0, "tip_psi": 45000.0}
    return steel_stud.Sheets(**{**given, "diameter_in": 0.19, "washer_in": 0.4, **changed})


def joint(**changed: int) -> wood_screw.WoodJoint:
    given = {"length_nm": 63_500_000, "bracket_nm": 3_000_000, "stack_nm": 0, **changed}
    return wood_screw.WoodJoint("#10", bracket_psi=60000.0, gravity=0.42, duration=1.0, **given)


# What is refused, the words, and what is next to it and answered. The words are this house's own.
CASES: list[tuple[Callable[[], object], str, Callable[[], object] | None]] = [
    (
        lambda: adjustment.shape_adjust(()),
        "an adjustment needs readings that tell of the shape",
        None,
    ),
    (
        lambda: brackets.heel_tension(10, 1, 0),
        "the screws are above the heel, and a lever is zero or more",
        lambda: brackets.heel_tension(10, 0, 0.1),
    ),
    (
        lambda: brackets.heel_tension(10, -0.1, 1),
        "the screws are above the heel, and a lever is zero or more",
        None,
    ),
    (
        lambda: brackets.row_tensions(10, ()),
        "every row has screws and is above the lower edge",
        lambda: brackets.row_tensions(10, ((1, 0.1),)),
    ),
    (
        lambda: brackets.row_tensions(10, ((2, 1.0), (0, 1.0))),
        "every row has screws and is above the lower edge",
        None,
    ),
    (
        lambda: brackets.row_tensions(10, ((2, 1.0), (2, 0.0))),
        "every row has screws and is above the lower edge",
        None,
    ),
    (
        lambda: brackets.hinge_couple(brackets.Hinges(80, 28, 0, 0)),
        "the hinges are apart",
        lambda: brackets.hinge_couple(brackets.Hinges(80, 28, 0, 0.5)),
    ),
    (
        lambda: brackets.group_shears((1, 0), (0, 0), ()),
        "a group has at least one screw",
        lambda: brackets.group_shears((1, 0), (0, 0), ((0, 0),)),
    ),
    (
        lambda: brackets.group_shears((1, 0), (0, 1), ((0, 0), (0, 0))),
        "screws at one point cannot hold a load off their centre",
        None,
    ),
    (
        lambda: business_days.business_days_after(date(2026, 3, 2), 0, calendar(5, 6)),
        "count one business day or more",
        lambda: business_days.business_days_after(date(2026, 3, 2), 1, calendar(5, 6)),
    ),
    (
        lambda: business_days.business_days_after(date(2026, 3, 2), 1, calendar(*range(7))),
        "a calendar that rests every day never gets anywhere",
        lambda: business_days.business_days_after(date(2026, 3, 2), 1, calendar(*range(6))),
    ),
    (lambda: catalogue.catalogue_compile([]), "a catalogue holds at least one kit", None),
    (
        lambda: chi_square.chi_square_tail(-0.1, 1),
        "neither a sum of squares nor its freedom is less than zero",
        lambda: chi_square.chi_square_tail(0.0, 0),
    ),
    (
        lambda: chi_square.chi_square_tail(0.1, -1),
        "neither a sum of squares nor its freedom is less than zero",
        None,
    ),
    (
        lambda: corners.angle_degrees(1, 0),
        "an angle is told over a length above zero",
        lambda: corners.angle_degrees(1, 0.001),
    ),
    (
        lambda: corners.slope_per_metre(1, 0),
        "a slope is told over a length above zero",
        lambda: corners.slope_per_metre(1, 0.001),
    ),
    (
        lambda: corners.corner_degrees(1, 1, 2),
        "these three lengths close no triangle",
        lambda: corners.corner_degrees(1, 1, 1.999),
    ),
    (
        lambda: corners.corner_degrees(0, 1, 1),
        "these three lengths close no triangle",
        None,
    ),
    (
        lambda: cure.depth_hours(1_000_000, Decimal(0)),
        "the rate of cure is more than zero",
        lambda: cure.depth_hours(1_000_000, Decimal("0.1")),
    ),
    (
        lambda: handling.frequency_multiplier(1, 8.5, high=True),
        "hours is 8.5; the table ends at 8 h",
        lambda: handling.frequency_multiplier(1, 8, high=True),
    ),
    (
        lambda: joints.volume_parse("0 mL"),
        "a cartridge holds more than nothing",
        lambda: joints.volume_parse("1 mL"),
    ),
    (
        lambda: lateral.reductions(0.19, 90.5),
        "the angle to the grain is from 0 to 90 degrees",
        lambda: (lateral.reductions(0.19, 0), lateral.reductions(0.19, 90)),
    ),
    (
        lambda: lateral.bending_yield(2.0),
        "no bending yield strength is known for a wood screw this thick",
        None,
    ),
    (
        lambda: lateral.single_shear(dowel(side_in=0.0)),
        "every length, strength and reduction is more than zero",
        lambda: lateral.single_shear(dowel(side_in=0.001)),
    ),
    (
        lambda: lateral.single_shear(dowel(main_psi=float("inf"))),
        "every length, strength and reduction is more than zero",
        None,
    ),
    (
        lambda: lateral_gap.single_shear_gap(dowel(), -0.01),
        "a gap is zero or more",
        lambda: lateral_gap.single_shear_gap(dowel(), 0.0),
    ),
    (
        lambda: least_squares.fit(np.ones((1, 1)), np.ones(1), np.zeros(1)),
        "an adjustment needs readings, each with an uncertainty above zero",
        lambda: least_squares.fit(np.ones((1, 1)), np.ones(1), np.ones(1)),
    ),
    (
        lambda: lifting.duration_hours(480.5, 0),
        "work is 0 to 480 min, rest zero or more",
        lambda: (lifting.duration_hours(480, 0), lifting.duration_hours(0, 0)),
    ),
    (
        lambda: lifting.duration_hours(60, -1),
        "work is 0 to 480 min, rest zero or more",
        None,
    ),
    (lambda: masonry.face_shell_nm(10_000_000), "no block is made this thin", None),
    (
        lambda: masonry.report_used(masonry.Report("0000", 0, 100, 0, 0), 1, 1),
        "a report gives a tension and a shear of more than zero",
        lambda: masonry.report_used(masonry.Report("0000", 1, 1, 0, 0), 1, 1),
    ),
    (
        lambda: masonry.report_used(masonry.Report("0000", 100, 0, 0, 0), 1, 1),
        "a report gives a tension and a shear of more than zero",
        None,
    ),
    (lambda: packing.least_packing((), 0, None, 16), "the top lies above the sill", None),
    (
        lambda: pane_edition.edition_of("astm_c1048", 0),
        "glass has a thickness",
        None,
    ),
    (
        lambda: pane_geometry.edge_line(Point(5, 5), Point(5, 5)),
        "an edge has a length, and a gap is zero or more",
        lambda: pane_geometry.edge_line(Point(5, 5), Point(5, 6), 0),
    ),
    (
        lambda: pane_geometry.edge_line(Point(5, 5), Point(5, 6), -1),
        "an edge has a length, and a gap is zero or more",
        None,
    ),
    (
        lambda: rail_beam.greatest_moment(10, ()),
        "a beam without loads has no greatest moment",
        lambda: rail_beam.greatest_moment(10, (rail_beam.Load(0, 10), rail_beam.Load(1, 0))),
    ),
    (
        lambda: rail_beam.sag_at(10, 0, (rail_beam.Load(1, 5),), 5),
        "a rail has a stiffness",
        lambda: rail_beam.sag_at(10, 0.1, (rail_beam.Load(1, 5),), 5),
    ),
    (
        lambda: rail_beam.section_bar(0, 1),
        "a bar has a width and a height",
        lambda: rail_beam.section_bar(0.1, 0.1),
    ),
    (lambda: rail_beam.section_bar(1, 0), "a bar has a width and a height", None),
    (
        lambda: rail_beam.reactions(0, (rail_beam.Load(1, 0),)),
        "a rail has a span",
        lambda: rail_beam.reactions(0.1, (rail_beam.Load(1, 0),)),
    ),
    (
        lambda: rail_beam.reactions(10, (rail_beam.Load(1, 10.1),)),
        "every load is on the rail and pushes down",
        lambda: rail_beam.reactions(10, (rail_beam.Load(1, 10), rail_beam.Load(0, 0))),
    ),
    (
        lambda: rail_beam.reactions(10, (rail_beam.Load(-1, 5),)),
        "every load is on the rail and pushes down",
        None,
    ),
    (lambda: rail_worst.rail_worst(60, 1e6, ()), "at least one panel hangs on the rail", None),
    (
        lambda: rail_worst.rail_worst(60, 1e6, (train(weight=0),)),
        "a panel has a weight and two rollers apart",
        None,
    ),
    (
        lambda: rail_worst.rail_worst(60, 1e6, (train(spacing=0),)),
        "a panel has a weight and two rollers apart",
        None,
    ),
    (
        lambda: rail_worst.rail_worst(60, 1e6, (train(travel_to=40.1),)),
        "the rollers stay on the rail between its brackets",
        lambda: rail_worst.rail_worst(60, 1e6, (train(travel_to=40),)),
    ),
    (
        lambda: rail_worst.rail_worst(60, 1e6, (train(travel_from=11),)),
        "the rollers stay on the rail between its brackets",
        lambda: rail_worst.rail_worst(60, 1e6, (train(travel_from=10),)),
    ),
    (lambda: screws.screw_number("10"), "size is 10; write #10", None),
    (
        lambda: screws.screw_number("#ten"),
        "size is #ten; write #10",
        lambda: screws.screw_number("#8"),
    ),
    (
        lambda: shower_code.floor_slopes_enough(1, 0),
        "a slope has a run",
        lambda: shower_code.floor_slopes_enough(1, 1),
    ),
    (
        lambda: steel_stud.mils_parse("20 gauge"),
        'write the thickness in mils as printed on the stud: "33 mil", not gauge',
        None,
    ),
    (
        lambda: steel_stud.mils_parse("18 mil"),
        "18 mil is too thin to hold a door (30 mil at least): fit wood blocking",
        lambda: steel_stud.mils_parse("30 mil"),
    ),
    (
        lambda: steel_stud.mils_parse("40 mil"),
        "40 mil is not a thickness that studs are made in: 18, 27, 30, 33, 43, 54, 68, 97",
        None,
    ),
    (lambda: steel_stud.steel_strength(0), "no strength is taken for a sheet this thin", None),
    (
        lambda: steel_stud.steel_holds(sheets(tip_in=0.0), 10),
        "every thickness, strength and diameter is more than zero",
        lambda: steel_stud.steel_holds(sheets(tip_in=0.001), 10),
    ),
    (
        lambda: wood_screw.combined_value(100, 100, 90.5),
        "the angle to the wood's face is from 0 to 90 degrees",
        lambda: (wood_screw.combined_value(1, 1, 0), wood_screw.combined_value(1, 1, 90)),
    ),
    (
        lambda: wood_screw.wood_holds(joint(stack_nm=-1)),
        "a bracket has a thickness, and a stack is zero or more",
        lambda: wood_screw.wood_holds(joint(stack_nm=0)),
    ),
    (
        lambda: wood_screw.wood_holds(joint(bracket_nm=0)),
        "a bracket has a thickness, and a stack is zero or more",
        lambda: wood_screw.wood_holds(joint(bracket_nm=1)),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[1][:40])
def test_what_cannot_be_answered_is_refused_in_words_and_what_is_beside_it_is_answered(
    case: tuple[Callable[[], object], str, Callable[[], object] | None],
) -> None:
    refused, words, answered = case
    with pytest.raises(ValueError) as told:  # noqa: PT011
        refused()

    assert str(told.value) == words
    assert answered is None or answered() is not None


WRITE = 'write "59 3/8 in" or "1508 mm"'
LENGTHS = [
    ("0.0000001 mm", "length_too_fine", "Finer than one nanometre.", WRITE),
    (
        "4 ft 12 in",
        "length_not_understood",
        "After feet come fewer than 12 inches.",
        'write "4 ft 11 3/8 in"',
    ),
    (
        "59-3/8 in",
        "length_not_understood",
        "59-3/8 in is not understood.",
        'write "59 3/8 in": a dash could be a minus',
    ),
    ("100001 mm", "length_too_large", "100001 mm is more than 100 m.", WRITE),
    ("1 mm" + " " * 400, "length_not_understood", "A length is at most 64 characters.", WRITE),
]


@pytest.mark.parametrize(("text", "code", "detail", "hint"), LENGTHS, ids=lambda one: None)
def test_a_length_that_is_none_says_what_to_send_instead(
    text: str, code: str, detail: str, hint: str
) -> None:
    with pytest.raises(LengthError) as told:
        length_parse(text)

    assert (told.value.code, str(told.value), told.value.hint) == (code, detail, hint)


@pytest.mark.parametrize("text", ["100 m", "-100000 mm", "4 ft 11 63/64 in", "0.000001 mm"])
def test_the_longest_and_the_finest_length_is_read(text: str) -> None:
    assert length_parse(text).entered == text


def test_the_words_of_a_length_are_those_of_the_limits() -> None:
    assert length.LONGEST_TEXT == 64
    assert length.LARGEST_NM == 100 * 10**9
