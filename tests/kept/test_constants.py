"""Every number of the rules, with its unit, source and status, is still what was kept.

`constants/<version of the rules>.json` lists them all; a changed number is a new version.
"""

import importlib
import json
from pathlib import Path
from typing import Any

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.tables import Constant

HERE = Path(__file__).parent
RULES = HERE.parents[1] / "fitcheck" / "rules"


def told_of(value: Any) -> str:
    """Write a value so that the same one is always written the same way."""
    return repr(sorted(value)) if isinstance(value, set | frozenset) else repr(value)


def constants() -> dict[str, dict[str, Any]]:
    found = {}
    for path in sorted(RULES.glob("tables*.py")):
        module = importlib.import_module(f"fitcheck.rules.{path.stem}")
        for name, one in vars(module).items():
            if isinstance(one, Constant):
                told = {"value": told_of(one.value), "unit": one.unit}
                found[f"{path.stem}.{name}"] = {**told, "source": one.source.as_json()}
    return found


def test_every_number_of_the_rules_is_the_one_that_was_kept() -> None:
    kept = json.loads((HERE / "constants" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))

    assert constants() == kept


def test_every_number_names_its_document_and_says_how_it_is_known() -> None:
    told = constants()

    assert len(told) > 100
    for name, one in told.items():
        assert one["unit"], name
        assert one["source"]["document"], name
        assert one["source"]["status"], name
