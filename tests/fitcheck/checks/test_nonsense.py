"""Is nonsense in a question answered with findings or named mistakes, never with another error?"""

import copy
import json
import random
import re
from collections.abc import Iterator
from typing import Any

import pytest

from fitcheck.checks.question import Question
from fitcheck.checks.questions import BY_ADDRESS, QUESTIONS
from fitcheck.rules.strict import InputError, InputErrors
from tests.factories import kit_published

ODD: tuple[Any, ...] = (
    *(None, True, -1, 0, 7, 1e308, 10**40, "", "0 in", "-5 in", "1/64 in", "100 m", "9" * 400),
    *("58", "NAN in", "0 kg", "9999 kg", "0.000001 kg", "999999999 N", "#14", "unknown", "none"),
    *(
        "\u202e58 in",
        "٥٨ in",
        "a\u0000b",
        "2026-02-30",
        [],
        {},
        [[]],
        {"kind": "rail"},
        [None] * 600,
    ),
)
WRONG: tuple[Any, ...] = (
    *("-10 mm", "0 mm", "90 m", "-5 kg", "0 kg", "text"),
    *(-3, 10**9, None, {}, "gone"),
)
WITHOUT_DATABASE = [one for one in QUESTIONS if not (one.by_kit or one.filled)]


def places(value: Any, pointer: str = "") -> Iterator[tuple[Any, Any, str]]:
    """Every member inside a body: the container that holds it, its key, and its pointer."""
    if isinstance(value, dict | list):
        for key in list(value) if isinstance(value, dict) else range(len(value)):
            yield value, key, f"{pointer}/{key}"
            yield from places(value[key], f"{pointer}/{key}")


@pytest.mark.parametrize("question", WITHOUT_DATABASE, ids=lambda one: one.address)
def test_nonsense_is_answered_with_findings_or_named_mistakes(question: Question) -> None:
    """Members of the example made odd in turn, and left out: never another error."""
    chance = random.Random(question.address)
    every = list(enumerate(places(question.example)))
    for index, (_, _, pointer) in chance.sample(every, min(len(every), 45)):
        for value in [*chance.sample(ODD, 3), "gone"]:
            body = copy.deepcopy(question.example)
            holder, key, _ = list(places(body))[index]
            if value == "gone":
                del holder[key]
            else:
                holder[key] = value
            is_answered_or_named(question, body, (pointer, value))


@pytest.mark.parametrize("question", WITHOUT_DATABASE, ids=lambda one: one.address)
def test_every_value_of_an_example_may_be_wrong_and_is_named_or_answered(
    question: Question,
) -> None:
    """Each in turn less than nothing, nothing, far too much, of another kind, and left out."""
    for index, (holder, key, pointer) in enumerate(places(question.example)):
        if isinstance(holder[key], dict | list):
            continue
        for value in WRONG:
            body = copy.deepcopy(question.example)
            at, name, _ = list(places(body))[index]
            if value == "gone":
                del at[name]
            else:
                at[name] = value
            is_answered_or_named(question, body, (pointer, value))


def is_answered_or_named(question: Question, body: Any, what: Any) -> None:
    told, mistakes = asked(question, body)
    assert not re.search(r"\b(nan|inf)\b", told), what
    assert told or mistakes, what
    assert all(one.code and one.detail for one in mistakes), what


def asked(question: Question, body: Any) -> tuple[str, list[InputError]]:
    try:
        return json.dumps(question.ask(body), allow_nan=False), []
    except InputErrors as wrong:
        return "", wrong.errors


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["chance", "least-change", "kits"])
def test_nonsense_about_an_opening_is_named_too(name: str) -> None:
    kit_published()
    question, chance = BY_ADDRESS[name], random.Random(name)
    picked = chance.sample(list(enumerate(places(question.example))), 40)
    for index, (_, key, pointer) in picked:
        if key == "kit":
            continue
        value = chance.choice(ODD)
        body = copy.deepcopy(question.example)
        holder, at, _ = list(places(body))[index]
        holder[at] = value
        is_answered_or_named(question, body, (pointer, value))
