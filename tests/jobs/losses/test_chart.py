"""Is every bar of the losses chart as long as its sum, and are the words beside it whole?"""

from typing import Any
from xml.etree import ElementTree

import pytest

from jobs.losses.chart import LETTERS, NAME, svg_losses
from jobs.losses.saves import GUARDS

SVG = "{http://www.w3.org/2000/svg}"


def cost(label: str, sum_: str) -> dict[str, Any]:
    return {"label": label, "cost": sum_, "currency": "USD", "count": 2}


def drawn(svg: str) -> tuple[list[str], list[float]]:
    """The texts, and the widths of the bars below the white ground, down the picture."""
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    texts = ["".join(one.itertext()) for one in root.iter(f"{SVG}text")]
    return texts, [float(one.get("width") or 0) for one in root.iter(f"{SVG}rect")][1:]


def test_a_bar_is_as_long_as_its_sum_and_nothing_stands_for_zero() -> None:
    rows = [cost("Miscut", "400.00"), cost("Call-back", "100.00"), cost("Scratch", "0.00")]
    texts, bars = drawn(svg_losses("cause", rows))
    assert bars[0] == pytest.approx(4 * bars[1], abs=2)  # drawn in whole points
    assert len(bars) == 2
    assert "0.00 USD, 2 times" in texts
    assert drawn(svg_losses("cause", [cost("Scratch", "0.00")]))[1] == []


def test_a_label_is_whole_up_to_the_width_of_its_column() -> None:
    texts, _ = drawn(svg_losses("kit", [cost("k" * LETTERS, "1.00"), cost("k" * 80, "1.00")]))
    assert texts[1] == "k" * LETTERS
    assert texts[3] == "k" * (LETTERS - 1) + "…"
    assert LETTERS * 13 * 0.5 <= NAME + 1  # a mean letter is half its size
    assert max(map(len, GUARDS.values())) <= LETTERS
