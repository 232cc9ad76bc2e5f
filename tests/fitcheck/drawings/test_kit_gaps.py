"""Does a front elevation name the gaps that a boxed kit leaves, and none that nobody knows?"""

import copy
from typing import Any

import pytest

from fitcheck.drawings.elevation import elevation, svg_elevation
from fitcheck.drawings.kit_gaps import OTHERS, gaps_said, strip_of, wall_of_screen
from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.model import Path
from tests.fitcheck.drawings.openings import said
from tests.jobs.packets.stories import story_cases

Json = dict[str, Any]


def case_of(kit: str) -> tuple[Json, Json]:
    case = next(one for one in story_cases() if one["kit"]["name"].startswith(kit))
    return case["inputs"], case["verdict"]


@pytest.mark.parametrize(
    ("kit", "gap"),
    [
        # Two of 30 3/4 in in 58 5/16 in: 61 1/2 less 58 5/16 is 3 3/16, by hand.
        ("osquith-tillybeck", "Panels overlap by 3 3/16 in · 80.9625 mm or more"),
        # A door of 31 5/8 in in 33 3/8 in.
        ("pellandrake-gullimot", "both sides together: 1 3/4 in · 44.45 mm or more"),
        # A screen of 34 1/2 in in 71 5/16 in.
        ("osquith-sandruffle", "Way in beside the screen: 36 13/16 in · 935.0375 mm or more"),
        ("osquith-tillybeck", "From the head rail at 71 1/4 in to the lowest ceiling read: 24 in"),
        (
            "osquith-tillybeck",
            "threshold strip is 11/16 in · 17.4625 mm shorter than the width, both",
        ),
        (
            "osquith-tillybeck",
            "head rail is 5/16 in · 7.9375 mm shorter than from bracket to bracket",
        ),
    ],
)
def test_a_known_gap_is_named_with_its_figure_and_where_it_is_from(kit: str, gap: str) -> None:
    inputs, verdict = case_of(kit)
    told = " ".join(gaps_said(inputs, verdict))
    assert gap in told
    assert "kit's sheet" in told
    assert told.endswith(OTHERS)
    assert gap in said(svg_elevation(inputs, verdict))


def test_without_a_width_no_gap_is_made_up() -> None:
    inputs, verdict = copy.deepcopy(case_of("osquith-tillybeck"))
    inputs["readings"] = []
    told = " ".join(gaps_said(inputs, verdict))
    assert "overlap by" not in told
    assert "ceiling" not in told


def test_the_strip_is_drawn_as_long_as_it_is_cut() -> None:
    inputs, verdict = case_of("osquith-tillybeck")
    cut = strip_of(verdict)
    assert cut is not None
    kit = [
        shape
        for view in elevation(inputs, verdict, true=True).views
        for shape in view.shapes
        if isinstance(shape, Path) and shape.layer == "kit"
    ]
    spans = {max(p.x for p in one.points) - min(p.x for p in one.points) for one in kit}
    assert length_nm(cut["length"]) in spans


@pytest.mark.parametrize(
    ("kit", "wall"), [("osquith-sandruffle", "right"), ("brindlefenn-murrowtine", "left")]
)
def test_a_screen_is_drawn_at_the_wall_that_takes_its_channel(kit: str, wall: str) -> None:
    inputs, verdict = case_of(kit)
    title = inputs["sheet"]["document"]["title"]
    assert f"channel on the {wall} wall" in title
    assert wall_of_screen(verdict) == wall
