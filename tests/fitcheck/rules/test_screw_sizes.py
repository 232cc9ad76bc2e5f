"""Does every screw that a sheet may name get a verdict, and none that the tables do not know a pass?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.sheet_parts import SCREW_SIZES
from fitcheck.rules.tables import SCREW_ROOT

KEPT = Path(__file__).parents[2] / "kept" / "verdicts" / RULES_VERSION
KNOWN = {f"#{number}" for number in SCREW_ROOT.value}


def asked(name: str, size: str) -> Any:
    inputs = json.loads((KEPT / f"{name}.json").read_text(encoding="utf-8"))["inputs"]
    inputs["sheet"]["fixings"][0]["screw"] = {"size": size, "length": "2 1/2 in"}
    return inputs


@pytest.mark.parametrize("size", SCREW_SIZES)
@pytest.mark.parametrize("name", ["slider_all_known", "hinged_metric", "hinged_steel_stud"])
def test_a_screw_of_any_size_gets_a_verdict(name: str, size: str) -> None:
    verdict = check(asked(name, size))

    assert size in KNOWN or verdict.state in {"fails", "unknown"}


@pytest.mark.parametrize("size", sorted(set(SCREW_SIZES) - KNOWN))
def test_a_screw_of_no_known_diameter_is_told_and_not_held_against_the_stud(size: str) -> None:
    findings = check(asked("slider_all_known", size)).findings

    assert any(f"no root diameter is known for {size}" in one.do for one in findings)
    assert not [one for one in findings if one.rule == "fixing.stud_hit" and size in one.question]


def test_a_known_screw_is_held_against_the_stud() -> None:
    findings = check(asked("slider_all_known", "#10")).findings

    assert [one for one in findings if one.rule == "fixing.stud_hit" and "#10" in one.question]
