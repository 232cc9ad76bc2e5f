"""Does each finding's bar carry its state as word and shape, and its figures verbatim?"""

import re
from typing import Any
from xml.etree import ElementTree

import pytest

from fitcheck.drawings.margins import (
    BAR_WIDTH,
    INSET,
    POINTS_PER_MM,
    svg_margin,
    svg_margins,
    svg_state,
)

SVG = "{http://www.w3.org/2000/svg}"


def words_in(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    return ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]


def finding(**more: Any) -> dict[str, Any]:
    return {
        "question": "Is it wide enough?",
        "sense": "least",
        "state": "fits",
        "reading": {"inch": "57 in", "mm": "1447.8 mm"},
        "limit": {"inch": "56 1/2 in", "mm": "1435.1 mm"},
        "margin": {"inch": "1/2 in", "mm": "12.7 mm"},
        "guard_band": "1.5 mm",
    } | more


def diamond_x(svg: str) -> float:
    points = re.findall(r'<polygon points="([^"]+)" fill="#000"', svg)
    return float(points[0].split()[0].split(",")[0])


def test_every_finding_has_its_question_its_figures_and_its_state_in_words(
    verdict: dict[str, Any],
) -> None:
    svg = svg_margins(verdict)
    said = " ".join(words_in(svg))

    for found in verdict["findings"]:
        assert found["question"] in said
        assert found["state"] in said
        if found["margin"] and found["sense"] in ("least", "most"):
            assert f"read {found['reading']['inch']}" in said
            assert f"{found['sense']} {found['limit']['inch']}" in said
            assert f"margin {found['margin']['inch']}" in said


def test_the_reading_stands_inside_a_least_by_its_margin() -> None:
    assert diamond_x(svg_margin(finding())) == pytest.approx(INSET + 12.7 * POINTS_PER_MM)


def test_the_reading_stands_inside_a_most_on_its_other_side() -> None:
    bar = svg_margin(finding(sense="most"))

    assert diamond_x(bar) == pytest.approx(BAR_WIDTH - INSET - 12.7 * POINTS_PER_MM)


def test_a_failing_reading_stands_on_the_wrong_side_of_its_limit() -> None:
    short = finding(state="fails", margin={"inch": "-1/8 in", "mm": "-3.175 mm"})

    assert diamond_x(svg_margin(short)) < INSET


def test_a_margin_too_large_for_the_bar_is_an_arrow_not_a_false_place() -> None:
    wide = finding(margin={"inch": "9 in", "mm": "228.6 mm"})
    svg = svg_margin(wide)

    assert len(re.findall("<polygon", svg)) == 1
    assert max(float(x) for x, _ in re.findall(r"([\d.]+),([\d.]+)", svg)) <= 176


def test_the_four_states_have_four_shapes() -> None:
    shapes = {svg_state(s).split("<desc>")[1] for s in ("fits", "tight", "fails", "unknown")}

    assert len(shapes) == 4


def test_an_unknown_state_is_never_drawn_as_a_pass() -> None:
    shape = svg_state("something new").split("</title>")[1]

    assert shape == svg_state("unknown").split("</title>")[1]


def test_no_finding_gives_a_picture_that_says_so() -> None:
    assert "nothing has been compared" in " ".join(words_in(svg_margins({})))
