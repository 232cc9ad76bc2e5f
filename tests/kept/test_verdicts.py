"""Verdicts kept from every version of the rules still come out the same, byte for byte.

A kept file is never rewritten. When an answer must change, the rules get a new version with a
folder of its own, and files of older versions are held against the rules that they were given by.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import VERSIONS, check
from fitcheck.rules import RULES_VERSION

FOLDER = Path(__file__).parent / "verdicts"
KEPT = sorted(FOLDER.glob("*/*.json"))


def test_every_version_of_the_rules_has_kept_verdicts_and_can_be_asked() -> None:
    assert {path.name for path in FOLDER.iterdir()} == set(VERSIONS)
    assert max(VERSIONS, key=int) == RULES_VERSION


@pytest.mark.parametrize("version", sorted(VERSIONS))
def test_a_version_of_the_rules_has_kept_verdicts_of_every_state(version: str) -> None:
    kept = [json.loads(path.read_text()) for path in (FOLDER / version).glob("*.json")]

    assert {one["result"]["state"] for one in kept} == {"fits", "tight", "fails", "unknown"}
    assert {one["result"]["rules_version"] for one in kept} == {version}


@pytest.mark.parametrize("path", KEPT, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_kept_verdict_replays(path: Path) -> None:
    kept: dict[str, Any] = json.loads(path.read_text())
    again = check(kept["inputs"], version=path.parent.name)

    assert json.dumps(again.as_json()) == json.dumps(kept["result"])
