"""Every sheet is still read, or refused, as it was kept: each default, each word.

`sheets/<version of the rules>.json`: sheets of kept verdicts with one member changed or left out, and what
that changed in the sheet that was read, or the mistakes that were told. Never rewritten, only added to.
"""

import copy
import dataclasses
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import sheet_parse
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.strict import InputErrors

HERE = Path(__file__).parent
KEPT = json.loads((HERE / "sheets" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))


def sheet_of(name: str) -> Any:
    verdict = HERE / "verdicts" / RULES_VERSION / f"{name}.json"
    return json.loads(verdict.read_text(encoding="utf-8"))["inputs"]["sheet"]


def changed(sheet: Any, at: str, out: bool, to: Any) -> Any:
    """Return the sheet with the member at a JSON Pointer replaced, or left out."""
    copied = copy.deepcopy(sheet)
    *way, last = at.split("/")[1:]
    inner = copied
    for step in way:
        inner = inner[int(step)] if isinstance(inner, list) else inner[step]
    where: Any = int(last) if isinstance(inner, list) else last
    if out:
        del inner[where]
    else:
        inner[where] = to
    return copied


def told(value: Any, at: str = "") -> Iterator[tuple[str, str]]:
    """Yield every single value of what was read, at its place."""
    if dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from told(getattr(value, field.name), f"{at}/{field.name}")
    elif isinstance(value, tuple) and value:
        for index, one in enumerate(value):
            yield from told(one, f"{at}/{index}")
    else:
        yield at, repr(sorted(value)) if isinstance(value, set | frozenset) else repr(value)


def read(sheet: Any) -> dict[str, Any]:
    try:
        return {"read": dict(told(sheet_parse(sheet)))}
    except InputErrors as wrong:
        return {"errors": [one.as_json() for one in wrong.errors]}


def difference(before: dict[str, str], after: dict[str, str]) -> dict[str, str | None]:
    places = sorted({*before, *after})
    return {at: after.get(at) for at in places if before.get(at) != after.get(at)}


@pytest.mark.parametrize("name", sorted(KEPT["whole"]))
def test_a_kept_sheet_is_read_as_before(name: str) -> None:
    assert read(sheet_of(name)) == {"read": KEPT["whole"][name]}


@pytest.mark.parametrize("number", range(len(KEPT["changed"])))
def test_a_changed_sheet_is_read_or_refused_as_before(number: int) -> None:
    kept = KEPT["changed"][number]
    found = read(changed(sheet_of(kept["of"]), kept["at"], "to" not in kept, kept.get("to")))

    if "errors" in kept:
        assert found == {"errors": kept["errors"]}
    else:
        assert difference(KEPT["whole"][kept["of"]], found["read"]) == kept["read"]
