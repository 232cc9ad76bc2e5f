"""What is told at length of a verdict still comes out as it was kept: each word, each number.

One file per kept verdict, named like it, under `depths/<version of the rules>/`; the first rules say no more
than the verdict. As with verdicts a kept file is never rewritten.
"""

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import SAY_MORE, depth
from fitcheck.rules.depth import DEPTHS

HERE = Path(__file__).parent
KEPT = sorted((HERE / "depths").glob("*/*.json"))


def inputs_of(version: str, name: str) -> Any:
    verdict = HERE / "verdicts" / version / f"{name}.json"
    return json.loads(verdict.read_text(encoding="utf-8"))["inputs"]


def test_every_version_that_says_more_has_kept_depths() -> None:
    assert {path.parent.name for path in KEPT} == set(DEPTHS) == set(SAY_MORE)


def test_verdicts_that_fit_and_that_do_not_have_a_kept_depth() -> None:
    kept = [json.loads(path.read_text(encoding="utf-8")) for path in KEPT]

    assert any(one["least_change"] is None for one in kept)
    assert any(one["least_change"] for one in kept)


@pytest.mark.parametrize("path", KEPT, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_kept_depth_is_told_as_before(path: Path) -> None:
    version = path.parent.name
    told = json.loads(json.dumps(depth(inputs_of(version, path.stem), version=version)))

    kept = json.loads(path.read_text(encoding="utf-8"))
    if version == "2":
        _same_drawn(told["chance"], kept["chance"])
    assert told == kept


def _same_drawn(told: Any, kept: Any) -> None:
    """Take out the chance that version 2 draws: processors differ in its last place."""
    drawn, before = told.pop("chance"), kept.pop("chance")
    if drawn is not None and before is not None:
        assert abs(Decimal(drawn) - Decimal(before)) <= Decimal("0.001")
    else:
        assert drawn == before
