"""Whatever is sent to a question about loads, panes or the saw: an answer or named mistakes."""

import copy
import dataclasses
import json
import re
from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules import (
    demand,
    glass_demand,
    holding,
    holding_steel,
    holding_wood,
    lateral,
    masonry,
    pane_edition,
    pane_geometry,
    pane_outline,
    panel_order,
    rail,
    rail_beam,
    rail_worst,
    safety_mark,
    sawmark,
    sawmark_read,
    sliding,
    steel_stud,
    wood_screw,
)
from fitcheck.rules.strict import InputError, InputErrors

Door = Callable[[dict[str, Any]], dict[str, object]]
TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
RAIL: dict[str, Any] = {
    "span": "60 in",
    "shape": "tube",
    "width": "1 in",
    "height": "2 in",
    "wall": "1/8 in",
    "clear_below": "1/2 in",
    "panels": [
        {"mass": "36 kg", "roller_spacing": "22 in", "first_from": "2 in", "first_to": "36 in"}
    ],
}
BRACKET = {
    "reach": "1 in",
    "screw_height": "2 in",
    "screws": 2,
    "top_row": 1,
    "thickness": "1/8 in",
    "metal": "steel",
}
QUESTIONS: dict[str, tuple[Door, dict[str, Any]]] = {
    "rail": (rail.answer, RAIL),
    "wood": (
        holding.answer,
        {
            "demand": {"kind": "rail", **RAIL},
            "bracket": BRACKET,
            "stack": "1 in",
            "base": {
                "kind": "wood",
                "species": "unknown",
                "screw": {"size": "#10", "length": "3 in"},
                "stud": {"off_centre": "1/8 in", "uncertainty": "2 mm"},
            },
        },
    ),
    "steel": (
        holding.answer,
        {
            "demand": {
                "kind": "hinge",
                "mass": "40 kg",
                "width": "28 in",
                "hinge_centres": "56 in",
                "offset": "1 in",
                "hinges": 2,
            },
            "bracket": BRACKET,
            "stack": "0 in",
            "base": {"kind": "steel_stud", "thickness": "43 mil", "screw": {"size": "#10"}},
        },
    ),
    "block": (
        holding.answer,
        {
            "demand": {"kind": "load", "down": "45 lbf", "outward": "10 lbf"},
            "bracket": BRACKET,
            "stack": "1/2 in",
            "base": {
                "kind": "block",
                "anchor": "1/4 in",
                "embedment": "1 in",
                "edge": "3 in",
                "spacing": "3 in",
                "head_joint": "2 in",
                "unit": "8 in",
                "grouted": "no",
                "report": {
                    "number": "an invented report",
                    "tension": "100 lbf",
                    "shear": "200 lbf",
                    "edge": "2 in",
                    "spacing": "2 in",
                },
            },
        },
    ),
    "sawmark": (
        sawmark.answer,
        {
            "part": "head rail",
            "predicted": {"distance": "59 13/16 in", "uncertainty": "0.8 mm"},
            "as_fixed": [
                {"id": "a", "value": "59 13/16 in", "read_by": "Ada", "tool": TAPE},
                {"id": "b", "value": "59 13/16 in", "read_by": "Ben", "tool": TAPE},
            ],
            "deduct": "1/4 in",
            "brackets_take": "0 in",
            "allowance": "1/8 in",
            "stock": "60 in",
            "kerf": "1/8 in",
            "end": "both",
        },
    ),
    "order": (
        panel_order.answer,
        {
            "edition": "c1048",
            "thickness": "3/8 in",
            "opening": {
                "left_foot": {"right": "0 mm", "up": "0 mm"},
                "right_foot": {"right": "1497 mm", "up": "0 mm"},
                "right_head": {"right": "1505 mm", "up": "1900 mm"},
                "left_head": {"right": "0 mm", "up": "1900 mm"},
                "uncertainty": "0.7 mm",
            },
            "gaps": {"left": "6 mm", "right": "6 mm", "head": "6 mm", "foot": "10 mm"},
            "panels": [
                {
                    "name": "screen",
                    "hardware_mass": "1 kg",
                    "holes": [
                        {
                            "name": "clip",
                            "from": "left",
                            "across": "3 in",
                            "up_from": "foot",
                            "up": "40 in",
                            "diameter": "1/2 in",
                        }
                    ],
                    "notches": [
                        {
                            "name": "hinge",
                            "edge": "right",
                            "start": "8 in",
                            "length": "2 in",
                            "depth": "1 in",
                            "radius": "3/8 in",
                        }
                    ],
                }
            ],
        },
    ),
    "glass": (
        glass_demand.answer,
        {
            "edition": "en12150",
            "thickness": "10 mm",
            "measured_thickness": "9.9 mm",
            "width": "0.9 m",
            "height": "2 m",
            "hinges": {"centres": "60 in", "offset": "1 in"},
            "sliding": {
                "widths": ["30 in", "31 in"],
                "height": "70 in",
                "opening_width": "59 in",
                "uncertainty": "0.8 mm",
                "tracks_apart": "1 in",
            },
        },
    ),
}
ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 3),
    st.floats(),
    st.text(max_size=6),
    st.sampled_from(["0 mm", "1 nm", "-5 in", "100 m", "0.000001 mm", "9999 kg", "#14", "18 mil"]),
    st.sampled_from(["0.000001 kg", "999999999 N", "1/64 in", "8 in", "rail", "hinge", "none"]),
    st.just([]),
    st.just({}),
)


def answered(
    door: Door, question: dict[str, Any]
) -> tuple[dict[str, object], list[InputError] | None]:
    try:
        return door(question), None
    except InputErrors as refused:
        return {}, refused.errors


def places(value: object) -> Iterator[tuple[Any, Any]]:
    """Every member of a question, as the container that holds it and its key."""
    if isinstance(value, dict | list):
        for key in list(value) if isinstance(value, dict) else range(len(value)):
            yield value, key
            yield from places(value[key])


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_whole_question_is_answered_in_plain_json(name: str) -> None:
    door, question = QUESTIONS[name]

    answer = door(copy.deepcopy(question))

    assert json.loads(json.dumps(answer)) == answer
    assert answer["state"] in {"fits", "tight", "fails", "unknown"}
    assert door(copy.deepcopy(question)) == answer


@pytest.mark.parametrize("name", QUESTIONS)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_one_odd_member_is_answered_or_named(name: str, data: st.DataObject) -> None:
    door, original = QUESTIONS[name]
    question = copy.deepcopy(original)
    holder, key = data.draw(st.sampled_from(list(places(question))))
    holder[key] = data.draw(ODD)

    answer, mistakes = answered(door, question)

    if mistakes is None:
        assert answer["findings"]
        assert not re.search(r"\b(nan|inf)\b", json.dumps(answer).lower())
    else:
        assert mistakes
        assert all(each.code and each.detail for each in mistakes)


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_misspelt_member_is_named_with_its_neighbour(name: str) -> None:
    door, question = QUESTIONS[name]
    member = next(iter(question))

    with pytest.raises(InputErrors) as refused:
        door({**question, f"{member}s": question[member]})

    assert refused.value.errors[0].code == "unknown_member"
    assert member in refused.value.errors[0].hint


@pytest.mark.parametrize(
    "module",
    [
        demand,
        holding,
        holding_steel,
        holding_wood,
        lateral,
        masonry,
        pane_edition,
        pane_geometry,
        pane_outline,
        panel_order,
        rail,
        rail_beam,
        rail_worst,
        safety_mark,
        sawmark,
        sawmark_read,
        sliding,
        steel_stud,
        wood_screw,
    ],
    ids=lambda module: module.__name__,
)
def test_what_goes_in_and_comes_out_is_never_changed_afterwards(module: ModuleType) -> None:
    kept = [
        each
        for each in vars(module).values()
        if isinstance(each, type)
        and dataclasses.is_dataclass(each)
        and getattr(each, "__module__", "") == module.__name__
    ]

    assert kept
    for each in kept:
        assert vars(each)["__dataclass_params__"].frozen
        assert "__slots__" in vars(each)
