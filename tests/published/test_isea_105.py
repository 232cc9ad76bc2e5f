"""ANSI/ISEA 105-2016, cut levels by grams on the blade (ASTM F2992), as two makers of gloves quote them."""

from dataclasses import replace

import pytest

from fitcheck.rules import cautions
from fitcheck.rules.tables_hazards import GLOVE_LEAST_GRAMS

LEVELS = {
    200: "A1",
    500: "A2",
    1000: "A3",
    1500: "A4",
    2200: "A5",
    3000: "A6",
    4000: "A7",
    5000: "A8",
    6000: "A9",
}


@pytest.mark.parametrize("grams", LEVELS)
def test_a_level_is_reached_at_its_grams_and_a_gram_more_asks_for_the_next(
    grams: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    following = [level for least, level in LEVELS.items() if least > grams]

    for asked, level in ((grams, LEVELS[grams]), (grams + 1, following[0] if following else None)):
        least = replace(GLOVE_LEAST_GRAMS, value=asked)
        monkeypatch.setattr(cautions, "GLOVE_LEAST_GRAMS", least)
        if level:
            assert cautions.glove_level() == level


def test_gloves_for_glass_are_a4_by_house_setting() -> None:
    assert cautions.glove_level() == "A4"
    assert GLOVE_LEAST_GRAMS.source.status == "house setting"
