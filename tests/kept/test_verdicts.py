"""Verdicts kept from every version of the rules still come out the same, byte for byte.

A kept file is never rewritten. When an answer must change, the rules get a new version with a
folder of its own, and files of older versions are held against the rules that can replay them.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import RULES_VERSION

KEPT = sorted((Path(__file__).parent / "verdicts" / RULES_VERSION).glob("*.json"))


def test_this_version_of_the_rules_has_kept_verdicts_of_every_state() -> None:
    states = {json.loads(path.read_text())["result"]["state"] for path in KEPT}

    assert states == {"fits", "tight", "fails", "unknown"}


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_a_kept_verdict_replays(path: Path) -> None:
    kept: dict[str, Any] = json.loads(path.read_text())

    assert json.dumps(check(kept["inputs"]).as_json()) == json.dumps(kept["result"])
