"""One pass over the whole catalogue says what the verdict says of each kit, one by one."""

import json
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitcheck.check import check
from fitcheck.rules import catalogue_blocks
from fitcheck.rules.asked_case import Case, read_findings
from fitcheck.rules.catalogue import Asked, Catalogue, catalogue_compile
from fitcheck.rules.catalogue_blocks import FAR_NM, FEWEST, lines_of
from fitcheck.rules.catalogue_pass import STATES, catalogue_compared, looked_up
from fitcheck.rules.finding import worst
from fitcheck.rules.in_doubt import by_shape
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, computed
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.which_kits import (
    Ranked,
    answer,
    asked_about,
    kits_told,
    margin_known,
    places_of,
    sizes_compared,
)
from fitcheck.rules.widths import size_chosen
from tests.fitcheck.benchmark_which_kits import (
    by_a_plain_loop,
    by_the_rules,
    invented,
    moved,
    opening,
)
from tests.fitcheck.conftest import fresh

Inputs = dict[str, Any]
ROOT = Path(__file__).resolve().parents[3]
KITS = [
    {"kit": f"{path.stem} v{sheet['version']}", "sheet": sheet["body"]}
    for path in sorted((ROOT / "fitcheck/kits/demo").glob("*.json"))
    for sheet in json.loads(path.read_text(encoding="utf-8"))["sheets"]
]
STORY = json.loads((ROOT / "contractor/config/demo/story.json").read_text(encoding="utf-8"))
SURVEYS = {s["ref"]: s["inputs"] for o in STORY["openings"] for s in o["surveys"]}
COUNT = 5_000  # so many kits that a margin which nobody measured has no room beside their numbers
MEMBERS = ("opening", "readings", "zones", "house")


def body(inputs: Inputs, **more: object) -> Inputs:
    own = {name: inputs[name] for name in MEMBERS if name in inputs}
    return {**own, "kits": KITS, **more}


def every(inputs: Inputs) -> dict[str, Inputs]:
    names = [kit["kit"] for kit in KITS]
    told: Any = answer(body(inputs, reasons_for=names))["kits"]
    return {each["kit"]: each for each in told}


def asked_of(inputs: Inputs) -> Asked:
    own = Strict(inputs)
    return asked_about(survey_read(own), house_read(own))


def same_as_check(inputs: Inputs) -> None:
    """The first rules' findings, with what the readings contradict put in doubt by itself."""
    told = every(inputs)
    own = {name: inputs[name] for name in MEMBERS if name in inputs}
    shape = asked_of(own).shape
    for kit in KITS:
        verdict = check({**own, "sheet": kit["sheet"]}, version="1")
        findings = by_shape(verdict.findings, shape)
        margins = [f.margin.low_nm for f in findings if f.margin and f.margin.u_mm]
        entry = told[str(kit["kit"])]
        states = [*(f.state for f in findings), *(one.state for one in verdict.fixings)]
        assert entry["state"] == worst(states), kit["kit"]
        assert verdict.size in (None, entry["size"])
        least = computed(min(margins), "down", 16) if margins else None
        assert entry["least_margin"] == least, kit["kit"]
        by_limits = [f.state for f in findings if not f.rule.startswith(("subst", "fixing"))]
        assert entry["by_limits"] == worst(by_limits), kit["kit"]


@pytest.mark.parametrize("ref", SURVEYS)
def test_each_kit_of_the_demo_has_the_state_size_and_margin_of_its_own_verdict(ref: str) -> None:
    same_as_check(SURVEYS[ref])


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(
    keep=st.sets(st.integers(0, 17)),
    step=st.integers(-40, 60),
    surface=st.sampled_from(["acrylic", "unknown", "glazed_ceramic"]),
)
def test_the_same_holds_when_readings_are_missing_or_moved(
    keep: set[int], step: int, surface: str
) -> None:
    inputs = fresh("inputs_bypass")
    inputs["zones"][0]["finish"] = surface
    inputs["readings"] = [r for n, r in enumerate(inputs["readings"]) if n in keep]
    for each in inputs["readings"]:
        if each["quantity"] == "width":
            each["value"] = f"{1430 + step + 2 * len(each['height'])} mm"

    same_as_check(inputs)


def test_over_readings_that_contradict_each_other_no_kit_fits_and_the_reason_comes_first() -> None:
    """A burned inch midway: every kit that nothing else fails waits for the reading to be taken again."""
    inputs = fresh("inputs_bypass")
    for n in (2, 3):
        inputs["readings"][n]["value"] = "57 1/4 in"
    sure: Any = answer(body(fresh("inputs_bypass")))
    found: Any = answer(body(inputs))

    assert sure["why"] is None
    assert {"fits", "tight"} & {one["by_limits"] for one in sure["kits"]}
    assert "contradict" in found["why"]
    assert {one["by_limits"] for one in found["kits"]} == {"unknown", "fails"}
    waiting = [one for one in found["kits"] if one.get("state") == "unknown"]
    assert waiting
    assert all(one["reasons"][0]["rule"] == "shape.agreement" for one in waiting)
    assert not [one for one in found["kits"] if one.get("state") in ("fits", "tight")]


def test_the_best_kit_comes_first_and_states_are_in_order() -> None:
    told: Any = answer(body(SURVEYS["s-01"]))["kits"]

    ranks = [STATES.index(each["by_limits"]) for each in told]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0
    for state in set(ranks):
        margins = [
            float(each["least_margin"]["mm"].split()[0])
            for each in told
            if STATES.index(each["by_limits"]) == state and each["least_margin"]
        ]
        assert margins == sorted(margins, reverse=True)


def test_a_kit_that_fails_says_why() -> None:
    told = every(SURVEYS["s-01"])

    failing = [each for each in told.values() if each["state"] == "fails"]

    assert failing
    for each in failing:
        assert each["reasons"][0]["state"] == "fails"
        assert each["reasons"][0]["do"]
    assert all(not each["reasons"] for each in told.values() if each["state"] == "fits")


def test_reasons_are_told_for_those_asked_about_only() -> None:
    name = KITS[3]["kit"]

    told: Any = answer(body(SURVEYS["s-01"], reasons_for=[name]))["kits"]

    assert [each["kit"] for each in told if "reasons" in each] == [name]


def test_without_a_wish_the_first_twenty_are_told_in_full() -> None:
    kits = invented(30)
    catalogue, asked = catalogue_compile(kits), opening()
    ranked = sizes_compared(catalogue, asked)

    told = kits_told(catalogue, asked, ranked)

    assert ["reasons" in each for each in told] == [True] * 20 + [False] * 10


def test_invented_kits_have_the_state_and_margin_that_the_rules_give() -> None:
    kits, asked = invented(150, seed=9), opening()
    catalogue = catalogue_compile(kits)

    ranked = sizes_compared(catalogue, asked)

    assert [STATES[n] for n in ranked.states[ranked.chosen]] == by_the_rules(kits, asked)
    assert len(set(ranked.states.tolist())) > 1
    for row, (_, sheet) in enumerate(kits):
        findings = read_findings(Case(asked.survey, sheet, sheet.sizes[0], asked.house))
        least = min(f.margin.low_nm for f in findings if f.margin and f.margin.u_mm)
        assert margin_known(int(ranked.margins_nm[row])) == least


def test_the_plain_loop_finds_the_same_margins() -> None:
    catalogue, asked = catalogue_compile(invented(60)), opening()
    looked = looked_up(catalogue, asked)

    assert (
        by_a_plain_loop(list(lines_of(catalogue.laid)), looked)
        == sizes_compared(catalogue, asked, looked).margins_nm.tolist()
    )


@pytest.fixture(scope="module")
def large() -> Catalogue:
    """Enough invented kits that some of them limit the same things and stand in blocks."""
    return catalogue_compile(invented(2_600))


def without(quantity: str, height: str) -> Asked:
    inputs = fresh("inputs_bypass")
    inputs["readings"] = [
        r for r in inputs["readings"] if (r["quantity"], r["height"]) != (quantity, height)
    ]
    return asked_of(inputs)


def test_each_size_stands_in_one_block_or_is_loose(large: Catalogue) -> None:
    laid = large.laid
    parts = [*(block.rows for block in laid.blocks), laid.loose]

    assert [part.start for part in parts] == [0, *(part.stop for part in parts[:-1])]
    assert min(block.rows.stop - block.rows.start for block in laid.blocks) >= FEWEST
    assert 0 < laid.loose.start < laid.loose.stop == len(large.size_kits)
    assert large.size_kits[large.kit_rows].tolist() == list(range(len(large.names)))


@pytest.mark.parametrize("moved_mm", [0, 10, 1_000])
def test_sizes_in_blocks_have_the_margins_of_a_plain_loop(large: Catalogue, moved_mm: int) -> None:
    looked = looked_up(large, opening())
    laid = moved(large, moved_mm * NM_PER_MM).laid

    found = catalogue_compared(laid, looked, "curb")

    assert found.margins_nm.tolist() == by_a_plain_loop(list(lines_of(laid)), looked)


def rows_told(catalogue: Catalogue, asked: Asked) -> list[tuple[int, ...]]:
    """Kit, size, margins and state of every size, whatever row it stands in."""
    looked = looked_up(catalogue, asked)
    found = catalogue_compared(catalogue.laid, looked, "curb", windows=True)
    assert found.windows_nm is not None
    columns = (found.windows_nm, found.margins_nm, found.states)
    rows = [catalogue.size_kits, catalogue.size_numbers, *columns]
    return sorted(zip(*(each.tolist() for each in rows), strict=True))


@pytest.mark.parametrize(
    ("height", "partial"), [("0 in", False), ("36 in", False), ("72 in", True)]
)
def test_blocks_say_the_same_as_sizes_one_by_one_while_a_width_is_to_be_read(
    large: Catalogue, height: str, partial: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = without("width", height)
    looked = looked_up(large, asked)
    monkeypatch.setattr(catalogue_blocks, "FEWEST", len(large.size_kits) + 1)
    loose = catalogue_compile(invented(2_600))
    assert not loose.laid.blocks

    assert any(looked.partial[b.keys].any() for b in large.laid.blocks) is partial
    assert looked.unknown.any()
    assert rows_told(large, asked) == rows_told(loose, asked)


@pytest.mark.parametrize(("fewest", "most"), [(1, 3), (2, 8_192), (10**6, 8_192)])
@settings(
    max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(
    missing=st.sets(st.integers(0, 18), max_size=2),
    wider=st.integers(-20, 20),
    kits=st.lists(st.integers(0, len(KITS) - 1), min_size=1, max_size=9),
)
def test_however_sizes_are_laid_out_the_kits_are_those_of_the_rules_in_their_order(
    fewest: int, most: int, missing: set[int], wider: int, kits: list[int]
) -> None:
    inputs = fresh("inputs_bypass")
    inputs["readings"] = [r for n, r in enumerate(inputs["readings"]) if n not in missing]
    for each in inputs["readings"]:
        if each["quantity"] == "width":
            each["value"] = f"{1440 + wider} mm"
    asked = asked_of(inputs)
    sheets = [sheet_parse(KITS[n]["sheet"]) for n in kits]
    with mock.patch.multiple(catalogue_blocks, FEWEST=fewest, MOST=most):
        catalogue = catalogue_compile([(str(n), sheet) for n, sheet in enumerate(sheets)])

    ranked = sizes_compared(catalogue, asked)

    by_rules = [by_the_rules_alone(sheet, asked) for sheet in sheets]
    order = sorted(range(len(kits)), key=lambda n: (*by_rules[n], n))
    assert ranked.order().tolist() == order
    assert [ranked.first(count).tolist() for count in (1, 4)] == [order[:1], order[:4]]


def by_the_rules_alone(sheet: Sheet, asked: Asked) -> tuple[int, int]:
    """The place of a kit's state and its least margin, largest first, from its findings alone."""
    size = size_chosen(sheet, asked.readings) or sheet.sizes[0]
    found = read_findings(Case(asked.survey, sheet, size, asked.house))
    findings = by_shape(found, asked.shape)
    margins = [f.margin.low_nm for f in findings if f.margin and f.margin.u_mm]
    return STATES.index(worst(f.state for f in findings)), -min(margins, default=FAR_NM)


@pytest.mark.parametrize("far", [10**11, FAR_NM, -FAR_NM, 2**47, -(2**47), 2**47 - 1])
def test_kits_are_ranked_by_state_then_margin_then_place(far: int) -> None:
    chance = np.random.default_rng(4)
    states = chance.integers(0, 4, COUNT)
    margins = chance.integers(-40, 40, COUNT) * NM_PER_INCH
    states[0], margins[0] = 1, far

    places = places_of(states.astype(np.int8), margins)
    order = np.argsort(places)

    told = list(zip(states.tolist(), (-margins).tolist(), range(COUNT), strict=True))
    assert [told[n] for n in order] == sorted(told)


def test_of_sizes_that_hold_the_widths_alike_the_first_stands_for_the_kit() -> None:
    sheet = json.loads(json.dumps(KITS[0]["sheet"]))
    sheet["sizes"].append({**sheet["sizes"][0], "code": "twin"})
    for part in (*sheet["cuts"], *sheet["panels"]):
        if "sizes" in part and sheet["sizes"][0]["code"] in part["sizes"]:
            part["sizes"].append("twin")
    asked = opening()

    ranked = sizes_compared(catalogue_compile([("k", sheet_parse(sheet))]), asked)

    assert int(ranked.chosen[0]) != len(sheet["sizes"]) - 1
    assert ranked.margins_nm[0] == ranked.margins_nm[-1] or len(sheet["sizes"]) > 2


def test_with_no_width_read_every_kit_is_unknown_or_fails() -> None:
    inputs = fresh("inputs_bypass")
    inputs["readings"] = [r for r in inputs["readings"] if r["quantity"] != "width"]

    states = {each["by_limits"] for each in every(inputs).values()}

    assert states <= {"unknown", "fails"}


def test_nothing_read_at_all_gives_no_margin() -> None:
    inputs = {**fresh("inputs_bypass"), "readings": [], "zones": []}

    assert {each["least_margin"] for each in every(inputs).values()} <= {None}


def test_a_deck_that_a_kit_does_not_stand_on_fails_it_whatever_its_limits() -> None:
    own = Strict(fresh("inputs_bypass"))
    survey, house = survey_read(own), house_read(own)
    sheet = sheet_parse({**fresh("inputs_bypass")["sheet"], "stands_on": ["tub_deck"]})

    ranked = sizes_compared(catalogue_compile([("k", sheet)]), asked_about(survey, house))

    assert ranked.states.tolist() == [3, 3]
    assert ranked.margins_nm[1] > 0


def test_the_arrays_hold_whole_nanometres() -> None:
    laid = catalogue_compile(invented(3)).laid
    arrays = (laid.loose_windows.signed_nm, laid.loose_others.signed_nm, laid.loose_covers.keys)

    assert {each.dtype for each in arrays} == {np.dtype(np.int64)}


def test_a_catalogue_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one kit"):
        catalogue_compile([])


def errors(inputs: Inputs) -> list[tuple[str, str]]:
    with pytest.raises(InputErrors) as caught:
        answer(inputs)
    return [(e.pointer, e.code) for e in caught.value.errors]


def test_malformed_questions_are_refused_with_their_place() -> None:
    good = body(SURVEYS["s-01"])
    broken = json.loads(json.dumps(KITS[0]))
    broken["sheet"]["unit"] = "furlong"

    assert errors({**good, "kits": []}) == [("/kits", "not_a_list")]
    assert errors({**good, "kit": []}) == [("/kit", "unknown_member")]
    assert errors({**good, "kits": [KITS[0], broken]}) == [("/kits/1/sheet/unit", "not_a_choice")]
    assert errors({**good, "kits": [KITS[0], KITS[0]]}) == [("/kits", "kit_twice")]
    assert errors({**good, "reasons_for": ["nobody's"]}) == [("/reasons_for/0", "not_a_choice")]


@pytest.mark.parametrize("kits", [0, 1, 31, 32, 641, 9_999])
@pytest.mark.parametrize("wanted", [0, 1, 20])
def test_the_best_kits_are_the_first_of_all_in_order(kits: int, wanted: int) -> None:
    chance = np.random.default_rng(kits)
    alike = chance.integers(-50, 50, kits)  # many kits have one margin
    states = chance.integers(0, 4, kits).astype(np.int8)
    ranked = Ranked(states, alike, np.arange(kits), places_of(states, alike) if kits else alike)

    assert ranked.first(wanted).tolist() == ranked.order()[:wanted].tolist()
