"""Is every cut drawn on its stock, and is a stock that is too short said to be so?"""

from typing import Any
from xml.etree import ElementTree

from fitcheck.drawings.cutbars import svg_cut_bars

SVG = "{http://www.w3.org/2000/svg}"


def words_in(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    return ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]


def test_every_cut_stands_with_length_stock_and_waste_verbatim(verdict: dict[str, Any]) -> None:
    said = words_in(svg_cut_bars(verdict))

    assert len(verdict["cuts"]) == 2
    for cut in verdict["cuts"]:
        assert cut["part"] in said
        assert f"{cut['length']['inch']} · {cut['length']['mm']} (rounded down)" in said
        assert f"waste {cut['waste']['inch']} · {cut['waste']['mm']}" in said
        assert any(words.startswith(f"stock {cut['stock']} · saw at") for words in said)


def test_a_stock_that_is_too_short_says_do_not_cut(verdict: dict[str, Any]) -> None:
    cut = {**verdict["cuts"][0], "stock": "40 in", "waste": None}

    said = " ".join(words_in(svg_cut_bars({"cuts": [cut]})))

    assert "the stock is too short. Do not cut." in said


def test_a_length_nobody_can_know_is_not_drawn_as_one(verdict: dict[str, Any]) -> None:
    cut = {**verdict["cuts"][0], "length": None, "waste": None}

    svg = svg_cut_bars({"cuts": [cut]})

    assert "length not known: a reading it needs is missing" in words_in(svg)
    assert "stroke-dasharray" in svg


def test_waste_lies_at_the_end_that_is_sawn(verdict: dict[str, Any]) -> None:
    def kept_x(end: str) -> float:
        svg = svg_cut_bars({"cuts": [{**verdict["cuts"][0], "end": end}]})
        root = ElementTree.fromstring(svg)  # noqa: S314
        heavy = [r for r in root.iter(f"{SVG}rect") if r.get("stroke-width") == "1.2"]
        return float(heavy[0].get("x") or 0)

    assert kept_x("left") > kept_x("both") > kept_x("right") == 4.0


def test_no_cut_gives_a_picture_that_says_so() -> None:
    assert "No part of this kit is cut on site." in words_in(svg_cut_bars({}))
