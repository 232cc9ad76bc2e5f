"""The one door: the shape of the answer, the same answer every time, and no web framework."""

import copy
import json
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitcheck import check as door
from fitcheck.check import check, sheet_parse
from fitcheck.rules.finding import WORST_FIRST, worst
from fitcheck.rules.length import length_parse, mm_text
from fitcheck.rules.uncertainty import guard_band_nm, margin_state

Inputs = dict[str, Any]
quickly = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
TENTHS_OF_MM = st.integers(12_000, 16_000)
GRADUATIONS = st.sampled_from(["1/64 in", "1/32 in", "1/16 in", "1 mm", "5 mm", "1 in"])


def widths_set(inputs: Inputs, tenths: int) -> None:
    for reading in inputs["readings"]:
        if reading["quantity"] == "width":
            reading["value"] = mm_text(tenths * 100_000)


def test_the_answer_has_every_member_of_the_contract(bypass: Inputs) -> None:
    answer = check(bypass).as_json()

    assert list(answer) == [
        "rules_version",
        "inputs_digest",
        "state",
        "size",
        "summary",
        "findings",
        "missing",
        "disagreements",
        "cuts",
        "fixings",
        "panels",
        "hands_needed",
        "sealant",
        "cure_hours",
        "cautions",
        "questions",
        "shape",
        "shape_why",
        "chance",
        "saw",
        "rail",
        "loads",
        "panes",
        "sealing",
        "made_glass",
    ]
    assert list(answer["findings"][1]) == [  # type: ignore[index]
        "rule",
        "question",
        "place",
        "reading",
        "limit",
        "sense",
        "margin",
        "uncertainty",
        "guard_band",
        "chance",
        "state",
        "source",
        "do",
        "readings",
    ]


def test_the_sample_openings_are_what_they_say(bypass: Inputs, hinged: Inputs) -> None:
    assert (check(bypass).state, check(bypass).size) == ("fits", "58")
    assert (check(hinged).state, check(hinged).size) == ("fits", "900")


def test_the_same_inputs_give_the_same_bytes_in_another_process(bypass: Inputs) -> None:
    here = json.dumps(check(bypass).as_json())
    script = (
        "import json, sys; from fitcheck.check import check; "
        "print(json.dumps(check(json.load(sys.stdin)).as_json()), end='')"
    )
    there = subprocess.run(
        [sys.executable, "-c", script],
        input=json.dumps(bypass),
        capture_output=True,
        text=True,
        check=True,
    )

    assert there.stdout == here


def test_the_order_of_members_does_not_change_the_answer(bypass: Inputs) -> None:
    turned = dict(reversed(bypass.items()))

    assert json.dumps(check(turned).as_json()) == json.dumps(check(bypass).as_json())


def test_a_sheet_parsed_before_gives_the_same_answer(bypass: Inputs) -> None:
    assert check(bypass, sheet_parse(bypass["sheet"])) == check(bypass)


def test_the_inputs_are_left_as_they_were(bypass: Inputs) -> None:
    before = copy.deepcopy(bypass)

    check(bypass)

    assert bypass == before


def test_another_reading_gives_another_digest(bypass: Inputs, read: Callable[..., None]) -> None:
    digest = check(bypass).inputs_digest
    read(bypass, "curb_depth", "5 in")

    assert digest.startswith("sha256:")
    assert check(bypass).inputs_digest != digest


def test_the_rules_import_no_web_framework() -> None:
    script = (
        "import sys, fitcheck.check; "
        "web = {'django', 'rest_framework', 'celery'}; "
        "print([m for m in sys.modules if m.split('.')[0] in web])"
    )
    found = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )

    assert found.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("states", "overall"),
    [
        (["fits", "tight", "unknown", "fails"], "fails"),
        (["fits", "tight", "unknown"], "unknown"),
        (["fits", "tight"], "tight"),
        (["fits"], "fits"),
        ([], "unknown"),
    ],
)
def test_the_worst_state_rules(states: list[Any], overall: str) -> None:
    assert worst(states) == overall


def test_a_disagreement_is_named_and_is_not_also_missing(
    bypass: Inputs, finding: Callable[..., Any]
) -> None:
    bypass["readings"][0]["value"] = "57 3/16 in"

    verdict = check(bypass)

    assert verdict.state == "unknown"
    assert [d.height for d in verdict.disagreements] == ["0 in"]
    assert verdict.disagreements[0].as_json()["apart"]["inch"] == "1 in"  # type: ignore[index]
    assert verdict.missing == ()
    assert "2 readings" in str(verdict.disagreements[0].as_json()["do"])
    assert "started at the 1" in str(verdict.disagreements[0].as_json()["do"])
    assert "again: two readings differ" in finding(verdict, "width.window", "0 in above").do


def test_a_disagreement_of_two_inches_is_not_called_a_burned_inch(bypass: Inputs) -> None:
    bypass["readings"][0]["value"] = "58 3/16 in"

    assert "started at the 1" not in str(check(bypass).disagreements[0].as_json()["do"])


def test_every_reading_of_the_sample_is_needed_or_is_a_spare(bypass: Inputs) -> None:
    """Leave out every reading of one quantity and side at a time: none may pass unread."""
    spare = {"diagonal"}
    for quantity, side in {(r["quantity"], r["side"]) for r in bypass["readings"]}:
        left = [r for r in bypass["readings"] if (r["quantity"], r["side"]) != (quantity, side)]
        state = check({**bypass, "readings": left}).state
        assert state == ("fits" if quantity in spare else "unknown"), (quantity, side)


@quickly
@given(keep=st.sets(st.integers(0, 17)))
def test_fewer_readings_never_turn_unknown_or_fails_into_a_pass(
    bypass: Inputs, keep: set[int]
) -> None:
    some = {**bypass, "readings": [r for i, r in enumerate(bypass["readings"]) if i in keep]}

    verdict = check(some)

    quantities = {(r["quantity"], r["side"]) for r in bypass["readings"]} - {
        (r["quantity"], r["side"]) for r in some["readings"]
    }
    needed = {q for q in quantities if q[0] != "diagonal"}
    assert (verdict.state in {"fits", "tight"}) <= (not needed)
    assert {q for q, _ in needed} <= {m.quantity for m in verdict.missing}


@quickly
@given(narrow=TENTHS_OF_MM, more=st.integers(0, 500))
def test_a_wider_opening_never_needs_a_shorter_rail(bypass: Inputs, narrow: int, more: int) -> None:
    bypass["size"] = "58"
    lengths = []
    for tenths in (narrow, narrow + more):
        widths_set(bypass, tenths)
        lengths.append([c.length.low_nm for c in check(bypass).cuts if c.length])

    assert len(lengths[0]) == 2
    assert all(short <= long for short, long in zip(*lengths, strict=True))


@quickly
@given(tenths=TENTHS_OF_MM, deduct=st.integers(0, 64), mark=st.sampled_from([16, 32]))
def test_a_cut_never_rounds_long(bypass: Inputs, tenths: int, deduct: int, mark: int) -> None:
    widths_set(bypass, tenths)
    bypass["size"], bypass["house"]["mark"] = "58", mark
    bypass["sheet"]["cuts"][2]["deduct"] = f"{deduct}/64 in" if deduct < 64 else "1 in"

    (cut,) = [c.as_json() for c in check(bypass).cuts if c.part == "threshold"]

    exact = tenths * 100_000 - deduct * 396_875
    assert length_parse(cut["length"]).nm == exact
    assert exact - 25_400_000 // mark < length_parse(cut["length"]["inch"]).nm <= exact  # type: ignore[index]


@quickly
@given(tenths=TENTHS_OF_MM, fine=GRADUATIONS, coarse=GRADUATIONS)
def test_more_doubt_never_makes_a_finding_better(
    bypass: Inputs, tenths: int, fine: str, coarse: str
) -> None:
    fine, coarse = sorted((fine, coarse), key=lambda text: length_parse(text).nm)
    bypass["size"] = "58"
    widths_set(bypass, tenths)
    states = []
    for graduation in (fine, coarse):
        for reading in bypass["readings"]:
            reading["tool"]["graduation"] = graduation
        found = [f for f in check(bypass).findings if f.rule == "width.window"]
        states.append([WORST_FIRST.index(f.state) for f in found])

    assert all(sure >= unsure for sure, unsure in zip(*states, strict=True))


@given(
    margin=st.integers(-(10**8), 10**8),
    sure=st.floats(0, 50),
    more=st.floats(0, 50),
    factor=st.floats(0, 5),
)
def test_more_doubt_never_turns_tight_into_fits(
    margin: int, sure: float, more: float, factor: float
) -> None:
    before = margin_state(margin, guard_band_nm(sure, factor))
    after = margin_state(margin, guard_band_nm(sure + more, factor))

    assert WORST_FIRST.index(after) <= WORST_FIRST.index(before)


@quickly
@given(tenths=TENTHS_OF_MM)
def test_what_fits_one_window_is_never_called_fits_outside_it(bypass: Inputs, tenths: int) -> None:
    bypass["size"] = "58"
    widths_set(bypass, tenths)
    inside = length_parse("54 3/4 in").nm <= tenths * 100_000 <= length_parse("58 3/4 in").nm

    states = {f.state for f in check(bypass).findings if f.rule == "width.window"}

    assert states <= ({"fits", "tight"} if inside else {"fails"})


@pytest.mark.parametrize("version", ["4", "5"])
def test_the_same_settings_by_the_same_rules_are_one_house(
    bypass: Inputs, version: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is worked out by a house is kept by it, so a house anew each time would never find it again."""
    asked = []
    answer = door.VERSIONS[version]
    kept = {version: lambda case, digest: asked.append(case.house) or answer(case, digest)}
    monkeypatch.setattr(door, "VERSIONS", kept)
    for _ in range(2):
        check(bypass, version=version)

    assert asked[0] is asked[1]
    assert asked[0].rules == int(version)
