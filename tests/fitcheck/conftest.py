"""Fresh copies of two invented openings with their kits, and a way to find a finding."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fitcheck.rules.finding import Finding
from fitcheck.rules.verdict import Verdict

DATA = Path(__file__).parent / "data"
Inputs = dict[str, Any]


def fresh(name: str) -> Inputs:
    inputs: Inputs = json.loads((DATA / f"{name}.json").read_text())
    return inputs


@pytest.fixture
def bypass() -> Inputs:
    """A bypass slider on a curb in an alcove; everything fits."""
    return fresh("inputs_bypass")


@pytest.fixture
def hinged() -> Inputs:
    """A metric hinged door on a curb; everything is known."""
    return fresh("inputs_hinged")


@pytest.fixture
def finding() -> Callable[..., Finding]:
    """Return the one finding of a rule whose place holds a text."""

    def find(verdict: Verdict, rule: str, place: str = "") -> Finding:
        found = [f for f in verdict.findings if f.rule == rule and place in f.place]
        assert len(found) == 1, [f"{f.rule} at {f.place}" for f in verdict.findings]
        return found[0]

    return find


@pytest.fixture
def read() -> Callable[..., None]:
    """Set, add or (with None) remove the readings of a quantity."""

    def change(
        inputs: Inputs,
        quantity: str,
        value: str | None,
        side: str = "none",
        height: str | None = None,
    ) -> None:
        def hit(reading: Inputs) -> bool:
            return (
                reading["quantity"] == quantity
                and reading["side"] == side
                and (height is None or reading["height"] == height)
            )

        old = [reading for reading in inputs["readings"] if hit(reading)]
        inputs["readings"] = [reading for reading in inputs["readings"] if not hit(reading)]
        if value is not None:
            template = old[0] if old else dict(inputs["readings"][0], over=None)
            new = {
                "quantity": quantity,
                "side": side,
                "value": value,
                "id": f"changed-{quantity}-{side}-{height}",
            }
            inputs["readings"].append({**template, **new, "height": height or template["height"]})

    return change
