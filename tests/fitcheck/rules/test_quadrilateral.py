"""What each reading of an opening would be, and how it answers to the opening's shape."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length
from fitcheck.rules.quadrilateral import (
    BOW,
    LEVEL,
    UNKNOWNS,
    Frame,
    Observation,
    expected,
    frame_of,
    observations,
    shared_part,
)
from fitcheck.rules.survey import Tool
from fitcheck.rules.uncertainty import reading_uncertainty
from tests.fitcheck.rules.simulated_openings import LEVEL as LEVEL_TOOL
from tests.fitcheck.rules.simulated_openings import TAPE, TOP_NM, reading, valued

FRAME = Frame(2000.0)
KINDS = [
    ("width", "none", 0.0),
    ("width", "none", 700.0),
    ("lean", "left", None),
    ("lean", "right", None),
    ("sill_level", "none", None),
    ("ceiling_height", "left", None),
    ("ceiling_height", "right", None),
    ("diagonal", "left", 2000.0),
    ("diagonal", "right", 1500.0),
    ("diagonal", "left", None),
    ("diagonal", "right", None),
]


def seen(quantity: str, side: str, height: float | None, over: float | None = None) -> Observation:
    return Observation("x", quantity, side, height, over, 1000.0, 1.0, 0.0, None)


def shape(**known: float) -> np.ndarray:
    usual = {"width": 1500.0, "top_left": 2400.0, "top_right": 2410.0}
    return np.array([{**usual, **known}.get(name, 0.0) for name in UNKNOWNS])


@pytest.mark.parametrize(("quantity", "side", "height"), KINDS)
@given(
    lean_left=st.floats(-20, 20),
    lean_right=st.floats(-20, 20),
    level=st.floats(-20, 20),
    bow=st.floats(-9, 9),
)
def test_the_derivatives_are_those_of_the_value(
    quantity: str, side: str, height: float | None, **parts: float
) -> None:
    each, at = seen(quantity, side, height, 1200.0 if quantity == "lean" else None), shape(**parts)

    value, slopes = expected(each, at, FRAME)

    for n in range(len(UNKNOWNS)):
        step = np.zeros(len(UNKNOWNS))
        step[n] = 0.01
        up, down = expected(each, at + step, FRAME)[0], expected(each, at - step, FRAME)[0]
        if quantity == "diagonal" and height is None and n >= len(UNKNOWNS) - 2:
            continue  # above the frame there is no bow left to follow: its bend is not smooth there
        assert (up - down) / 0.02 == pytest.approx(slopes[n], abs=1e-6), UNKNOWNS[n]
    assert value == pytest.approx(expected(each, at, FRAME)[0])


def test_a_diagonal_to_the_ceiling_answers_to_the_height_there() -> None:
    at = shape(lean_right=20.0, level=5.0)
    value, slopes = expected(seen("diagonal", "left", None), at, FRAME)
    higher = at.copy()
    higher[-1] += 0.01

    assert value == pytest.approx(np.hypot(1500 - 20 * 2410 / 2000, 2415))
    assert (expected(seen("diagonal", "left", None), higher, FRAME)[0] - value) / 0.01 == (
        pytest.approx(slopes[-1], abs=1e-5)
    )


def test_a_lean_over_half_the_height_is_half_the_lean_and_half_of_one_walls_bow() -> None:
    value, slopes = expected(seen("lean", "left", None, 1000.0), shape(lean_left=6, bow=4), FRAME)

    assert value == pytest.approx(3 + 2)
    assert slopes[BOW] == 0.5


def test_a_level_shorter_than_the_sill_shows_its_share() -> None:
    each = seen("sill_level", "none", None, 750.0)

    assert expected(each, shape(level=6.0), FRAME)[0] == pytest.approx(3.0)
    assert expected(replace(each, over=None), shape(level=6.0), FRAME)[0] == pytest.approx(6.0)


def test_the_bow_is_full_midway_and_nothing_at_sill_top_and_beyond() -> None:
    bulged = shape(bow=4.0)

    widths = [expected(seen("width", "none", h), bulged, FRAME)[0] for h in (0, 500, 1000, 2000)]

    assert widths == pytest.approx([1500, 1497, 1496, 1500])
    assert expected(seen("width", "none", 2500), bulged, FRAME)[0] == pytest.approx(1500)


def test_a_sill_out_of_level_parts_the_diagonals_and_hardly_stretches_the_width() -> None:
    out = shape(level=6.0)
    left, right = (
        expected(seen("diagonal", side, 2000), out, FRAME)[0] for side in ("left", "right")
    )

    assert left - right == pytest.approx(2 * 6 * 2000 / 2500, abs=1e-3)
    assert expected(seen("width", "none", 0), out, FRAME)[0] == pytest.approx(1500.012, abs=1e-3)
    assert expected(seen("width", "none", 0), out, FRAME)[1][LEVEL] == pytest.approx(
        0.004, abs=1e-6
    )


def test_an_unknown_quantity_shapes_nothing() -> None:
    with pytest.raises(KeyError):
        expected(seen("curb_depth", "none", None), shape(), FRAME)


def test_observations_keep_what_shapes_the_opening_only() -> None:
    kept = observations((reading("a", "curb_depth"), reading("b", "width", height=0)))

    assert [each.id for each in kept] == ["b"]


def test_a_diagonal_without_a_height_ends_at_the_highest_width_or_at_the_ceiling() -> None:
    taken = (
        reading("w", "width", height=0),
        reading("v", "width", height=TOP_NM),
        reading("d", "diagonal", "left"),
    )

    at_station, at_ceiling = observations(taken)[2], observations(taken, to_ceiling=True)[2]

    assert at_station.height == pytest.approx(1828.8)
    assert at_ceiling.height is None
    assert observations(taken[2:])[0].height is None
    # the mark on the wall adds to the first, 0.7 mm times height over diagonal at most
    assert at_ceiling.sigma == reading_uncertainty(taken[2])
    assert at_station.sigma == pytest.approx(
        np.hypot(at_ceiling.sigma, 0.7 * min(1, 1828.8 / 1500))
    )


def test_a_diagonals_mark_counts_by_how_steep_the_diagonal_is() -> None:
    steep = valued(reading("d", "diagonal", "left", 1000 * NM_PER_MM), 2000.0)

    (found,) = observations((steep,))

    assert found.sigma == pytest.approx(np.hypot(reading_uncertainty(steep), 0.35))


def test_a_tape_shares_its_own_error_and_a_level_none() -> None:
    width, lean = reading("w", "width", height=0), reading("l", "lean", "left", tool=LEVEL_TOOL)
    laser = reading("w", "width", height=0, tool=replace(TAPE, kind="laser"))

    # class II, up to 2 m: 0.7 mm either way
    assert shared_part(width, reading_uncertainty(width)) == pytest.approx(0.7 / np.sqrt(3))
    assert shared_part(laser, reading_uncertainty(laser)) == pytest.approx(1.5 / np.sqrt(3))
    assert shared_part(lean, reading_uncertainty(lean)) == 0.0


def test_the_frame_reaches_to_the_highest_width_else_to_the_highest_reading() -> None:
    lean = observations((reading("l", "lean", "left", tool=LEVEL_TOOL),))
    width = observations((reading("w", "width", height=40 * NM_PER_INCH),))
    level = observations((reading("s", "sill_level", tool=LEVEL_TOOL),))

    assert frame_of(lean + width).top == pytest.approx(1016)
    assert frame_of(lean).top == pytest.approx(1828.8)
    assert frame_of(level).top == 1000.0
    assert frame_of(level + observations((reading("w", "width", height=0),))).top == 1000.0


def test_a_tool_of_another_make_is_another_tool() -> None:
    one = observations((reading("w", "width", height=0),))[0]
    tool = Tool("tape", "II", Length(NM_PER_INCH // 16, "1/16 in"), False)

    assert one.tool == tool
    assert one.tool != replace(tool, hook=True)
