"""Does a crew read in its own language what is said of a fixing that must not be drilled as it stands?"""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.check import check
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import speaking
from tests.fitcheck.rules.test_masonry_in_verdict import cellar
from tests.fitcheck.rules.test_steel_in_verdict import on_the_steel
from tests.fitcheck.rules.test_what_is_borne import bracket, case, walls
from tests.jobs.packets.test_catalogue import sentences_of, unexplained

Inputs = dict[str, Any]


def walls_of(**zone: Any) -> Inputs:
    inputs = case("s-01")
    walls(inputs, **zone)
    return inputs


def long_strip(**zone: Any) -> Inputs:
    inputs = walls_of(**zone)
    strip = next(f for f in inputs["sheet"]["fixings"] if f["place"] == "side strip")
    strip["screw"] = {"size": "#8", "length": "3 in"}
    return inputs


def short_in_steel() -> Inputs:
    inputs = on_the_steel()
    bracket(inputs)["screw"]["length"] = "1/2 in"
    return inputs


def weak() -> Inputs:
    inputs = case("s-01")
    bracket(inputs)["count"] = bracket(inputs)["bracket"]["top_row"] = 1
    return inputs


def of_the_firm() -> Inputs:
    return {**long_strip(), "house": {"safe_reach": "1 1/8 in"}}


def unseated(newton: str, length: str = "2 in") -> Inputs:
    inputs = case("s-01")
    fixing = bracket(inputs)
    del fixing["bracket"]
    fixing |= {"load": newton, "count": 2, "screw": {"size": "#10", "length": length}}
    return inputs


def close() -> Inputs:
    inputs = case("s-01")
    bracket(inputs)["bracket"]["spacing"] = "1/4 in"
    return inputs


ASKED: dict[str, tuple[str, Callable[[], Inputs]]] = {
    "nothing thick": ("written down as 0 in", lambda: walls_of(finish_thickness="0 in")),
    "none, and thick": ("two is true", lambda: walls_of(backing="none")),
    "masonry on wood": (
        "and behind it",
        lambda: walls_of(finish="masonry", finish_thickness=None),
    ),
    "thick": ("really 20 in thick", lambda: walls_of(finish_thickness="20 in")),
    "too short for steel": ("three threads and its point", short_in_steel),
    "wet": ("GFCI", lambda: case("s-01")),
    "weak": ("Do not drill yet", weak),
    "tip": ("beyond the stud's face", long_strip),
    "tip, by the firm": ("The firm's own settings", of_the_firm),
    "tip, stack not known": ("may go up to", lambda: long_strip(backing_thickness=None)),
    "load, whichever way": ("whichever way", lambda: unseated("80 N")),
    "load, unknown": ("of what the weaker way holds", lambda: unseated("160 N")),
    "load, short screw": ("counts for nothing", lambda: unseated("80 N", "1 3/4 in")),
    "too close": ("wood would split", close),
    "how close": ("how far apart the screws stand", lambda: case("s-01")),
    "turned": ("twisting it", lambda: case("s-12")),
    "bars": ("reinforcing bars", cellar),
}


@pytest.mark.parametrize(("words", "inputs"), ASKED.values(), ids=ASKED)
def test_it_is_said_in_spanish(words: str, inputs: Callable[[], Inputs]) -> None:
    texts = set(sentences_of(check(inputs()).as_json()))
    asked = [text for text in texts if words in text]

    assert asked
    assert unexplained(texts) == {}
    with speaking("es"):
        assert all(words not in told(text) or words == "GFCI" for text in asked)
