"""Is every computed length of every answer rounded to the firm's mark, the way that it says?

Expected: computed in the test from the millimetres that stand beside the inches; 1 in = 25.4 mm.
"""

import importlib
import json
import math
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check, depth
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.strict import InputErrors

KEPT = Path(__file__).parents[2] / "kept"
QUESTIONS = sorted((KEPT / "questions" / RULES_VERSION).glob("*.json"))
VERDICTS = sorted((KEPT / "verdicts" / RULES_VERSION).glob("*.json"))
PER_INCH = Fraction(254, 10)


def lengths(told: Any) -> Iterator[dict[str, str]]:
    if isinstance(told, dict):
        if "inch_mark" in told:
            yield told
        for value in told.values():
            yield from lengths(value)
    elif isinstance(told, list | tuple):
        for value in told:
            yield from lengths(value)


def inches(text: str) -> Fraction:
    body = text.removesuffix(" in")
    parts = sum(Fraction(part) for part in body.removeprefix("-").split())
    return -parts if body.startswith("-") else Fraction(parts)


def assert_rounded(one: dict[str, str], mark: int) -> None:
    marks = Fraction(one["mm"].removesuffix(" mm")) / PER_INCH * mark
    whole = math.floor(marks) if one["rounded"] == "down" else math.ceil(marks)

    assert one["inch_mark"] == f"1/{mark} in"
    assert inches(one["inch"]) == Fraction(whole, mark), one


def answers(path: Path, mark: int) -> Iterator[Any]:
    door = importlib.import_module(f"fitcheck.rules.{path.stem}").answer
    for case in json.loads(path.read_text(encoding="utf-8")):
        if "answer" not in case:
            continue
        house = {**(case["asked"].get("house") or {}), "mark": mark}
        try:
            yield door({**case["asked"], "house": house})
        except InputErrors:  # a question that knows no house
            return


@pytest.mark.parametrize("mark", [16, 32])
@pytest.mark.parametrize("path", QUESTIONS, ids=lambda path: path.stem)
def test_the_lengths_of_a_question_are_to_the_mark_of_the_house(path: Path, mark: int) -> None:
    if path.stem == "fit":
        pytest.skip("verdicts have a test of their own")
    for told in answers(path, mark):
        for one in lengths(told):
            assert_rounded(one, mark)


@pytest.mark.parametrize("mark", [16, 32])
@pytest.mark.parametrize("path", VERDICTS, ids=lambda path: path.stem)
def test_the_lengths_of_a_verdict_are_to_the_mark_of_the_house(path: Path, mark: int) -> None:
    asked = json.loads(path.read_text(encoding="utf-8"))["inputs"]
    asked["house"] = {**(asked.get("house") or {}), "mark": mark}
    told = [*lengths(check(asked).as_json()), *lengths(depth(asked))]

    assert told
    for one in told:
        assert_rounded(one, mark)
