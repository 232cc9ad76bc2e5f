"""What is told at length of a verdict still comes out as it was kept: each word, each number.

One file per kept verdict of the newest rules, named like it, under `depths/<version of the rules>/`. As
with verdicts a kept file is never rewritten.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import depth
from fitcheck.rules import RULES_VERSION

HERE = Path(__file__).parent
KEPT = sorted((HERE / "depths" / RULES_VERSION).glob("*.json"))


def inputs_of(name: str) -> Any:
    verdict = HERE / "verdicts" / RULES_VERSION / f"{name}.json"
    return json.loads(verdict.read_text(encoding="utf-8"))["inputs"]


def test_verdicts_that_fit_and_that_do_not_have_a_kept_depth() -> None:
    kept = [json.loads(path.read_text(encoding="utf-8")) for path in KEPT]

    assert any(one["least_change"] is None for one in kept)
    assert any(one["least_change"] for one in kept)


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_a_kept_depth_is_told_as_before(path: Path) -> None:
    told = json.loads(json.dumps(depth(inputs_of(path.stem))))

    assert told == json.loads(path.read_text(encoding="utf-8"))
