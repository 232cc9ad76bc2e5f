"""Malformed inputs are the caller's error: every mistake at once, each with its pointer."""

import copy
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitcheck.check import InputErrors, check
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.verdict import Verdict

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=6,
)


def mistakes(inputs: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(InputErrors) as refused:
        check(inputs)
    return {error.pointer: error.code for error in refused.value.errors}


def test_every_mistake_is_reported_at_once_with_its_pointer(bypass: dict[str, Any]) -> None:
    bypass["readings"][3]["value"] = "56"
    bypass["readings"][4]["quantity"] = "widht"
    bypass["zones"][0]["finish"] = "tile"
    bypass["sheet"]["cuts"][0]["deduct"] = "-1/4 in"
    bypass["house"]["mark"] = 12

    assert mistakes(bypass) == {
        "/readings/3/value": "length_without_unit",
        "/readings/4/quantity": "not_a_choice",
        "/zones/0/finish": "not_a_choice",
        "/sheet/cuts/0/deduct": "length_out_of_range",
        "/house/mark": "not_in_range",
    }


def test_an_unknown_member_gets_the_nearest_name(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["width_diference"] = bypass["sheet"].pop("width_difference")

    with pytest.raises(InputErrors) as refused:
        check(bypass)

    (error,) = refused.value.errors
    assert error.as_json() == {
        "pointer": "/sheet/width_diference",
        "code": "unknown_member",
        "detail": "width_diference is not known here.",
        "hint": "did you mean width_difference?",
    }


@pytest.mark.parametrize(
    ("quantity", "missing"),
    [("width", "height"), ("backing_centre", "height"), ("lean", "over"), ("lean", "side")],
)
def test_a_reading_must_say_where_it_was_taken(
    bypass: dict[str, Any], quantity: str, missing: str
) -> None:
    index = next(i for i, r in enumerate(bypass["readings"]) if r["quantity"] == quantity)
    bypass["readings"][index][missing] = None

    assert list(mistakes(bypass)) == [f"/readings/{index}/{missing}"]


@pytest.mark.parametrize("value", ["-56 in", "0 in"])
def test_a_width_is_more_than_zero(bypass: dict[str, Any], value: str) -> None:
    bypass["readings"][0]["value"] = value

    assert mistakes(bypass) == {"/readings/0/value": "length_out_of_range"}


def test_a_size_that_the_sheet_does_not_have_is_refused(bypass: dict[str, Any]) -> None:
    bypass["size"] = "60"

    assert mistakes(bypass) == {"/size": "size_unknown"}


def test_the_same_reading_twice_is_refused(bypass: dict[str, Any]) -> None:
    bypass["readings"].append(bypass["readings"][0])

    assert mistakes(bypass) == {"/readings": "id_twice"}


@pytest.mark.parametrize(
    ("path", "value", "pointer"),
    [
        (("sizes", 0, "windows", 0, "most"), "1 in", "/sizes/0/windows/0/most"),
        (("sizes", 0, "panels"), ["nobody"], "/sizes"),
        (("cuts", 0, "sizes"), ["99"], "/cuts"),
        (("fixings", 0, "heights"), ["1 in"], "/fixings/0/height"),
        (("fixings", 1, "heights"), ["8 in", "36"], "/fixings/1/heights/1"),
        (("fixings", 0, "load"), "150", "/fixings/0/load"),
        (("fixings", 0, "screw", "size"), "10", "/fixings/0/screw/size"),
        (("panels", 0, "hardware_mass"), "1.4", "/panels/0/hardware_mass"),
        (("backing", 0, "setback_most"), "1 in", "/backing/0/setback_most"),
        (("cuts", 0, "most"), "1 in", "/cuts/0/most"),
        (("sill_fall", "most"), "1/32 in", "/sill_fall/most"),
        (("sizes",), None, "/sizes"),
        (("sizes",), [], "/sizes"),
        (("steps",), "first", "/steps"),
        (("substrates", "finishes"), ["tiles"], "/substrates/finishes/0"),
        (("format",), 2, "/format"),
        (("lean", "page"), None, "/lean/page"),
        (("document",), "a title", "/document"),
        (("hands", "least"), True, "/hands/least"),
    ],
)
def test_a_sheet_says_where_it_is_wrong(
    bypass: dict[str, Any], path: tuple[str | int, ...], value: object, pointer: str
) -> None:
    target: Any = bypass["sheet"]
    for step in path[:-1]:
        target = target[step]
    target[path[-1]] = value

    with pytest.raises(InputErrors) as refused:
        sheet_parse(bypass["sheet"])

    assert [error.pointer for error in refused.value.errors] == [pointer]


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("guard_factor", 1.645, "not_in_range"),
        ("guard_factor", "many", "not_in_range"),
        ("guard_factor", "5.1", "not_in_range"),
        ("guard_factor", "NaN", "not_in_range"),
        ("guard_factor", "1" * 17, "not_in_range"),
        ("agreement_factor", "0.5", "not_in_range"),
        ("mark", 24, "not_a_choice"),
        ("safe_reach", "-1 in", "length_out_of_range"),
        ("lift_convention", "ours", "not_a_choice"),
    ],
)
def test_a_house_setting_out_of_range_is_refused(
    bypass: dict[str, Any], name: str, value: object, code: str
) -> None:
    bypass["house"][name] = value

    assert mistakes(bypass) == {f"/house/{name}": code}


def test_without_house_settings_the_defaults_hold(bypass: dict[str, Any]) -> None:
    with_settings = check(bypass)
    del bypass["house"]

    assert check(bypass).findings == with_settings.findings


def test_missing_is_told_apart_from_wrong(bypass: dict[str, Any]) -> None:
    bypass["sheet"] |= {"sizes": None, "kind": None, "page": None}
    bypass["readings"][0]["value"] = None

    assert set(mistakes(bypass).values()) == {"missing"}


def test_two_sizes_with_one_code_are_refused(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["sizes"].append(bypass["sheet"]["sizes"][0])

    assert mistakes(bypass) == {"/sheet/sizes": "code_twice"}


@pytest.mark.parametrize("wrong", [None, [], "sheet", 1, {}])
def test_what_is_no_sheet_at_all_is_refused(wrong: object) -> None:
    with pytest.raises(InputErrors) as refused:
        sheet_parse(wrong)

    assert refused.value.errors


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [path] * bool(path) + [
        deep for key, each in inner for deep in places(each, (*path, key))
    ]


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_whatever_stands_anywhere_there_is_a_verdict_or_a_list_of_mistakes(
    bypass: dict[str, Any], data: st.DataObject
) -> None:
    inputs = copy.deepcopy(bypass)
    path = data.draw(st.sampled_from(places(inputs)))
    target: Any = inputs
    for step in path[:-1]:
        target = target[step]
    target[path[-1]] = data.draw(JSON)
    try:
        outcome: Verdict | list[Any] = check(inputs)
    except InputErrors as refused:
        outcome = refused.errors

    assert outcome
