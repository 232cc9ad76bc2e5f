"""Every sheet is still read, or refused, as it was kept: each default, each word.

`sheets/<version of the rules>.json`: sheets of kept verdicts with one member changed or left out, and what
that changed in the sheet that was read, or the mistakes that were told. Never rewritten, only added to.
"""

import json
from pathlib import Path

import pytest

from fitcheck.rules import RULES_VERSION
from tests.kept.members import changed, difference, sheet_of, sheet_told

HERE = Path(__file__).parent
KEPT = json.loads((HERE / "sheets" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", sorted(KEPT["whole"]))
def test_a_kept_sheet_is_read_as_before(name: str) -> None:
    assert sheet_told(sheet_of(name)) == {"read": KEPT["whole"][name]}


@pytest.mark.parametrize("number", range(len(KEPT["changed"])))
def test_a_changed_sheet_is_read_or_refused_as_before(number: int) -> None:
    kept = KEPT["changed"][number]
    found = sheet_told(changed(sheet_of(kept["of"]), kept))

    if "errors" in kept:
        assert found == {"errors": kept["errors"]}
    else:
        assert difference(KEPT["whole"][kept["of"]], found["read"]) == kept["read"]
