"""What is told at length of a verdict: does it keep to what was read, and to the verdict itself?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check, depth
from fitcheck.rules import RULES_VERSION

KEPT = Path(__file__).parents[2] / "kept" / "verdicts" / RULES_VERSION
SHAPING = {"width", "lean", "sill_level", "ceiling_height", "diagonal"}


def inputs(name: str) -> Any:
    return json.loads((KEPT / f"{name}.json").read_text(encoding="utf-8"))["inputs"]


def test_without_a_reading_of_the_shape_there_is_none_and_the_reason_is_told() -> None:
    asked = inputs("single_slider")
    asked["readings"] = [one for one in asked["readings"] if one["quantity"] not in SHAPING]
    told = depth(asked)

    assert told["shape"] is None
    assert told["shape_why"] == (
        "No reading tells of the shape: read a width, a lean, the level or a diagonal."
    )
    assert told["chance"]["chance"] is None  # type: ignore[index]


@pytest.mark.parametrize("name", ["single_slider", "slider_metric_tight", "hinged_steel_stud"])
def test_it_belongs_to_its_verdict(name: str) -> None:
    verdict, told = check(inputs(name)), depth(inputs(name))

    assert told["rules_version"] == verdict.rules_version
    assert told["inputs_digest"] == verdict.inputs_digest
    assert (told["least_change"] is None) == (verdict.state == "fits")
    assert told["shape"] is not None
    assert told["shape_why"] is None


def test_a_fixing_that_is_not_known_leaves_no_chance() -> None:
    verdict, told = check(inputs("hinged_steel_stud")), depth(inputs("hinged_steel_stud"))

    assert "unknown" in {each.state for each in verdict.fixings}
    assert told["chance"]["chance"] is None  # type: ignore[index]
    assert told["chance"]["at_least"] == "0.000"  # type: ignore[index]
