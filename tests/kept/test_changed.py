"""Every kept verdict still changes as it did when one thing on site, on the sheet or in the house changes.

`changed/<version of the rules>.json`: inputs of kept verdicts with one member changed or left out, and every
single value of the verdict that differs then. Never rewritten, only added to.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import RULES_VERSION
from tests.kept.members import changed, difference, single

HERE = Path(__file__).parent
KEPT = json.loads((HERE / "changed" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))


@cache
def verdict_of(name: str) -> Any:
    path = HERE / "verdicts" / RULES_VERSION / f"{name}.json"
    return json.loads(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("number", range(len(KEPT)))
def test_a_changed_verdict_differs_where_it_did(number: int) -> None:
    kept = KEPT[number]
    before = verdict_of(kept["of"])
    after = check(changed(before["inputs"], kept)).as_json()

    assert difference(dict(single(before["result"])), dict(single(after))) == kept["differs"]
