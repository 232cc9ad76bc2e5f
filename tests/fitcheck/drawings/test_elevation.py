"""Does the front elevation show the readings as entered, and say so when there are none?"""

import re
from typing import Any
from xml.etree import ElementTree

import pytest

from fitcheck.drawings.elevation import elevation, svg_elevation
from fitcheck.drawings.model import Path
from fitcheck.drawings.outline import outline_of
from fitcheck.rules.shape_report import answer

SVG = "{http://www.w3.org/2000/svg}"
PRINT_POINTS = 9.0


def words_in(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    return ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]


def reading(quantity: str, value: str, **more: Any) -> dict[str, Any]:
    return {"quantity": quantity, "value": value, "side": "none", "height": None} | more


def test_it_is_named_and_described_for_those_who_do_not_see_it(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    root = ElementTree.fromstring(svg_elevation(inputs, verdict))  # noqa: S314

    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == "Front elevation, kit size 58"
    described = root.findtext(f"{SVG}desc") or ""
    assert "56 3/16 in, 56 7/32 in at 0 in above the sill" in described
    assert "Shower-head side: left" in described


def test_every_width_stands_in_it_as_entered_with_the_other_unit(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    said = words_in(svg_elevation(inputs, verdict))

    assert "at 0 in: 56 3/16 in, 56 7/32 in" in said
    assert "1427.1625 mm, 1427.95625 mm" in said  # 56 3/16 and 56 7/32 times 25.4, by hand
    assert "at 72 in: 56 5/16 in, 1430 mm" in said
    assert "head rail at 73 in" in said


def test_the_factor_by_which_leans_are_enlarged_is_stated(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    times = outline_of(inputs).exaggeration()

    assert times > 1
    assert f"leans are drawn {times} times their size" in " ".join(
        words_in(svg_elevation(inputs, verdict))
    )


def test_no_text_is_smaller_than_nine_points_and_nothing_is_coloured(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    svg = svg_elevation(inputs, verdict)

    sizes = [float(s) for s in re.findall(r'font-size="([\d.]+)"', svg)]
    assert min(sizes) >= PRINT_POINTS
    assert set(re.findall(r'(?:fill|stroke)="(#\w+)"', svg)) <= {"#000", "#555", "#fff"}


def test_one_width_alone_is_drawn_with_upright_walls() -> None:
    alone = {"readings": [reading("width", "1500 mm", height="0 mm")]}

    assert "at 0 mm: 1500 mm" in words_in(svg_elevation(alone, {}))
    assert outline_of(alone).offsets(1000.0) == (0.0, 0.0)


def test_a_lean_moves_its_own_wall_and_the_width_moves_the_other() -> None:
    survey = {
        "readings": [
            reading("width", "1500 mm", height="0 mm"),
            reading("width", "1490 mm", height="1000 mm"),
            reading("lean", "12 mm", side="left", over="2000 mm"),
        ]
    }

    # At 1000 mm the left wall has come in 6 mm; the opening is 10 mm narrower, so right gives 4.
    assert outline_of(survey).offsets(1000.0) == (6.0, 4.0)


def test_nothing_read_gives_a_picture_that_says_so() -> None:
    unreadable = {"readings": [reading("width", "?", height="0 in")]}
    surveys: list[dict[str, Any]] = [{}, {"readings": []}, unreadable]
    for nothing in surveys:
        said = " ".join(words_in(svg_elevation(nothing, {})))

        assert "No width has been read yet." in said


def test_hostile_words_stay_words(inputs: dict[str, Any], verdict: dict[str, Any]) -> None:
    named = "<script>alert('x')</script> & \"q\" \x00\ud800"
    panels = [{**verdict["panels"][0], "name": named}]
    svg = svg_elevation(inputs, {**verdict, "panels": panels})

    assert "<script" not in svg
    joined = "".join("".join(words_in(svg)).split())
    assert "<script>alert('x')</script>&\"q\"" in joined


def test_the_same_survey_is_drawn_with_the_same_bytes(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    assert svg_elevation(inputs, verdict) == svg_elevation(inputs, verdict)


def test_the_adjusted_opening_stands_beside_the_measured_one_when_it_is_told(
    inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    heights = ["0 in", "36 in", "73 in"]
    shape: Any = answer({"readings": inputs["readings"], "heights": heights})
    drawn = elevation(inputs, {**verdict, "shape": shape})
    chains = [s for _, s in drawn.shapes() if isinstance(s, Path) and s.layer == "adjusted"]
    said = " ".join(words_in(svg_elevation(inputs, {**verdict, "shape": shape})))

    assert [len(one.points) for one in chains] == [3, 3]  # both walls, at each of the heights
    for row in shape["widths"]:
        assert f"{row['width']['inch']} · {row['width']['mm']}" in said
        assert f"(u {row['uncertainty']})" in said
    # The walls stand as far apart as adjusted, what is missing to the sill's width enlarged.
    times = outline_of(inputs).exaggeration()
    base = round(outline_of(inputs).base_mm * 1e6)
    for left, right, row in zip(*(one.points for one in chains), shape["widths"], strict=True):
        wide = round(float(row["width"]["mm"].removesuffix(" mm")) * 1e6)
        assert base - (right.x - left.x) == pytest.approx((base - wide) * times, abs=2 * times)


@pytest.mark.parametrize(
    "shape", [None, {}, {"widths": [], "over": "1 mm"}, {"widths": [{}]}, "none"]
)
def test_no_adjusted_opening_is_invented(
    shape: Any, inputs: dict[str, Any], verdict: dict[str, Any]
) -> None:
    bare = {k: v for k, v in verdict.items() if k not in ("shape", "shape_why")}
    plain = svg_elevation(inputs, bare)

    assert svg_elevation(inputs, {**bare, "shape": shape}) == plain
    assert "djusted" not in plain
    because = svg_elevation(inputs, {**bare, "shape_why": "No lean was read."})
    assert "Not adjusted: No lean was read." in " ".join(words_in(because))
