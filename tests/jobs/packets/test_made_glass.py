"""Does the paper hold a drawing of each panel that is made to measure, with the verdict's figures?"""

from typing import Any

import pytest

from jobs.packets.paper.content import packet_content
from tests.jobs.packets.stories import story_cases, story_paper

MADE, BOXED = (
    next(one for one in story_cases() if bool(one["verdict"].get("made_glass")) is made)
    for made in (True, False)
)


def glass(case: Any, kind: str, language: str = "en") -> list[dict[str, str]]:
    content = packet_content(story_paper(case, kind, language), None)
    found: list[dict[str, str]] = content["openings"][0]["glass"]
    return found


@pytest.mark.parametrize("kind", ["install", "receiving"])
def test_each_panel_has_its_drawing_to_check_by(kind: str) -> None:
    _, *panels = glass(MADE, kind)
    told = MADE["verdict"]["made_glass"]["panels"]

    assert [one["title"] for one in panels] == [f"Panel {p['name']}, made to measure" for p in told]
    for drawn, panel in zip(panels, told, strict=True):
        assert "TO CHECK AND HANG BY: NOT FOR CUTTING" in drawn["picture"]
        for edge in (*panel["edges"].values(), *panel["diagonals"]):
            whole, _, rest = edge["mm"].removesuffix(" mm").partition(".")
            short = rest if len(rest) <= 4 else rest[:2]  # four decimals are told in full
            assert f"{whole}.{short}".rstrip("0").rstrip(".") + " mm" in drawn["picture"]
        assert panel["mass"] in drawn["picture"]


def test_the_drawing_speaks_the_papers_language() -> None:
    door = glass(MADE, "install", "es")[2]

    assert door["title"] == "Panel puerta, a medida"
    assert "Agujeros de la manija a la izquierda." in door["picture"]


def test_a_boxed_kit_has_none() -> None:
    assert glass(BOXED, "install") == []
