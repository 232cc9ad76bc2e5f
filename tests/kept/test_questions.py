"""Every question of the rules still answers, and refuses, as it was kept: each word, each number.

One file per question under `questions/<version of the rules>/`: what was asked, and the answer or the
mistakes that were told. As with verdicts a kept file is never rewritten: when an answer must change,
the rules get a new version.
"""

import importlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.strict import InputErrors

FOLDER = Path(__file__).parent / "questions" / RULES_VERSION
KEPT = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in FOLDER.glob("*.json")}
CASES = [(name, number) for name in sorted(KEPT) for number in range(len(KEPT[name]))]


def answer_of(name: str) -> Callable[[Any], Any]:
    if name == "fit":
        return lambda asked: check(asked).as_json()
    door: Callable[[Any], Any] = importlib.import_module(f"fitcheck.rules.{name}").answer
    return door


def test_every_question_that_a_web_process_answers_is_kept() -> None:
    rules = Path(__file__).parents[2] / "fitcheck" / "rules"
    doors = {
        path.stem for path in rules.glob("*.py") if "\ndef answer(inputs" in path.read_text("utf-8")
    }

    assert set(KEPT) == {"fit", *doors} - {
        "saw_order"
    }  # a solver's answer may differ and be as good


@pytest.mark.parametrize(("name", "number"), CASES)
def test_a_kept_question_is_answered_as_before(name: str, number: int) -> None:
    kept = KEPT[name][number]
    try:
        told = {"answer": answer_of(name)(kept["asked"])}
    except InputErrors as wrong:
        told = {"errors": [one.as_json() for one in wrong.errors]}

    kept_answer = {key: value for key, value in kept.items() if key != "asked"}
    assert json.loads(json.dumps(told)) == kept_answer
