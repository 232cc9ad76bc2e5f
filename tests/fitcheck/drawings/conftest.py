"""Which opening do the drawing tests draw: the sample survey, checked by the real engine."""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check

DATA = Path(__file__).parents[1] / "data"


@pytest.fixture(scope="module")
def inputs() -> dict[str, Any]:
    survey: dict[str, Any] = json.loads((DATA / "inputs_bypass.json").read_text())
    return survey | {"sheet": json.loads((DATA / "sheet_bypass.json").read_text())}


@pytest.fixture(scope="module")
def verdict(inputs: dict[str, Any]) -> dict[str, Any]:
    return check(inputs).as_json()
