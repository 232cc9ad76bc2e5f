"""How is any answer said in words: its facts, its groups, its lists, and what it asks to be done?"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.api.desk_values import JOINED, label
from fitcheck.checks.desk import WORST_FIRST

OWN_PLACE = frozenset({"findings", "cautions", "state", "summary", "source"})
WORDS = {"do": "What to do", "state": "Says", "id": "Name"}
NOTHING: tuple[Any, ...] = (None, "", [], {})


@dataclass(frozen=True, slots=True)
class Told:
    """An answer taken apart: single facts, groups of facts, lists of things."""

    facts: list[tuple[str, Any]]
    groups: list[tuple[str, list[tuple[str, Any]]]]
    lists: list[tuple[str, list[str], list[list[Any]]]]


def taken_apart(answer: Mapping[str, Any]) -> Told:
    """Sort the members of an answer by how they are best read."""
    told = Told([], [], [])
    for name, value in answer.items():
        if name in OWN_PLACE or value in NOTHING:
            continue
        if _is_list_of_things(value) and any(_is_deep(one) for one in value):
            told.groups.extend((_title(name, one), list(_flat(one))) for one in value)
        elif _is_list_of_things(value):
            told.lists.append((called(name), *columns(value)))
        elif _is_list_of_sentences(value):
            told.lists.append((called(name), ["In words"], [[one] for one in value]))
        elif isinstance(value, Mapping) and not short(value):
            told.groups.append((called(name), list(_flat(value))))
        else:
            told.facts.append((called(name), value))
    return told


def called(name: str) -> str:
    """Give a member its name in words."""
    return WORDS.get(name) or label(name)


def _title(name: str, thing: Mapping[str, Any]) -> str:
    return f"{called(name)}: {thing.get('name', '')}".removesuffix(": ")


def _is_deep(thing: Mapping[str, Any]) -> bool:
    """Whether a thing holds more than a line of a table can tell."""
    return any(isinstance(one, Mapping) and not short(one) for one in thing.values())


def _is_list_of_sentences(value: Any) -> bool:
    return isinstance(value, list) and any(str(one).endswith(".") for one in value)


def _is_list_of_things(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, Mapping) for one in value)


def _flat(group: Mapping[str, Any], before: str = "") -> list[tuple[str, Any]]:
    """The members of a group, those of a group within it under both names."""
    found: list[tuple[str, Any]] = []
    for name, value in group.items():
        if value in NOTHING:
            continue
        words = f"{before}{called(name).lower() if before else called(name)}"
        if isinstance(value, Mapping) and not short(value):
            found += _flat(value, f"{words}, ")
        else:
            found.append((words, value))
    return found


def columns(things: list[Mapping[str, Any]]) -> tuple[list[str], list[list[Any]]]:
    """Give the members that any thing fills, and what each thing says of them."""
    heads = [
        name
        for name in dict.fromkeys(key for one in things for key in one)
        if name != "source" and any(one.get(name) not in NOTHING for one in things)
    ]
    return heads, [[one.get(name) for name in heads] for one in things]


def said(value: Any) -> str:
    """Write any value of an answer in one line of words."""
    if value in NOTHING:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        named = (f"{called(k).lower()} {said(v)}" for k, v in value.items() if v not in NOTHING)
        return short(value) or "; ".join(named)
    if isinstance(value, list):
        return ", ".join(said(one) for one in value)
    return str(value).replace("_", " ") if JOINED.match(str(value)) else str(value)


def short(value: Mapping[str, Any]) -> str:
    """Write a length, a force, a place or a source; empty when it is none of these."""
    if "inch" in value:
        return f"{value['inch']} ({value['mm']})"
    if "lbf" in value:
        return f"{value['lbf']} ({value['newton']})"
    if set(value) == {"right", "up"}:
        return f"{said(value['right'])} right, {said(value['up'])} up"
    if {"do", "place"} <= set(value):
        return f"{value['place']}: {value['do']}"
    if "document" in value:
        clause = value.get("clause") or (f"page {value['page']}" if value.get("page") else "")
        return ", ".join(filter(None, (value["document"], clause, value.get("status"))))
    return ""


def worst_first(answer: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """The findings of an answer, the worst first."""
    findings: list[Mapping[str, Any]] = list(answer.get("findings", []))
    return sorted(findings, key=lambda one: WORST_FIRST.index(one["state"]))


def in_short(answer: Mapping[str, Any]) -> str:
    """Say an answer in one sentence: its summary, its decision, or what its worst finding asks for."""
    if answer.get("summary"):
        return str(answer["summary"])
    if answer.get("decision") == "release":
        return f"Saw at {answer['mark']}. {answer['saw']}"
    if "chance" in answer:
        return _chance(answer)
    findings = worst_first(answer)
    if findings and findings[0]["state"] == "fits":
        return "Every limit is kept."
    return str((findings[0] if findings else _first_like(answer)).get("do") or "")


def _chance(answer: Mapping[str, Any]) -> str:
    if answer["chance"] is None:
        return f"Not known: {answer['unknown']} limits cannot be answered yet."
    return f"{answer['chance']} is the chance that every limit is truly kept."


def _first_like(answer: Mapping[str, Any]) -> Mapping[str, Any]:
    """The first part of an answer that stands as the whole does, and says what to do about it."""
    parts = [
        one for value in answer.values() for one in (value if isinstance(value, list) else [value])
    ]
    said_so = (one for one in parts if isinstance(one, Mapping) and one.get("do"))
    return next((one for one in said_so if one.get("state") == answer.get("state")), answer)
