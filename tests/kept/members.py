"""One member of what is sent changed or left out, and every single value of what was then read."""

import copy
import dataclasses
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from fitcheck.check import check, sheet_parse
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.asked_case import CASE
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import house_read, survey_read

VERDICTS = Path(__file__).parent / "verdicts"


def changed(sent: Any, kept: Any) -> Any:
    """Return what is sent with the member `at` a JSON Pointer left out, or as it is `to` be."""
    copied = copy.deepcopy(sent)
    *way, last = kept["at"].split("/")[1:]
    inner = copied
    for step in way:
        inner = inner[int(step)] if isinstance(inner, list) else inner[step]
    where: Any = int(last) if isinstance(inner, list) else last
    if "to" in kept:
        inner[where] = kept["to"]
    else:
        del inner[where]
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


def difference(before: dict[str, str], after: dict[str, str]) -> dict[str, str | None]:
    """Return what was read differently, None where nothing was read any more."""
    places = sorted({*before, *after})
    return {at: after.get(at) for at in places if before.get(at) != after.get(at)}


def single(value: Any, at: str = "") -> Iterator[tuple[str, str]]:
    """Yield every single value of an answer, at its place; its digest is left out."""
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    for name, one in inner:
        if isinstance(one, dict | list | tuple) and one:
            yield from single(one, f"{at}/{name}")
        elif name != "inputs_digest":
            yield f"{at}/{name}", json.dumps(one, ensure_ascii=False)


def inputs_of(name: str) -> Any:
    """Return the inputs of a kept verdict of the newest rules."""
    path = VERDICTS / RULES_VERSION / f"{name}.json"
    return json.loads(path.read_text(encoding="utf-8"))["inputs"]


def sheet_of(name: str) -> Any:
    """Return the sheet of a kept verdict of the newest rules."""
    return inputs_of(name)["sheet"]


def sheet_told(sheet: Any) -> dict[str, Any]:
    """Return every single value of a sheet that was read, or the mistakes that were told."""
    try:
        return {"read": dict(told(sheet_parse(sheet)))}
    except InputErrors as wrong:
        return {"errors": [one.as_json() for one in wrong.errors]}


def survey_told(inputs: Any) -> dict[str, Any]:
    """Return every single value of a survey that was read, or the mistakes that were told."""
    try:
        check(inputs)
    except InputErrors as wrong:
        return {"errors": [one.as_json() for one in wrong.errors]}
    own = Strict.open(inputs, CASE, "", [])
    return {"read": {**dict(told(survey_read(own))), **dict(told(house_read(own), "/house"))}}
