"""More doubt about a reading never turns what is tight, or fails, into what fits: every measured finding.

Two things are told by doubt itself and stand apart: readings that contradict each other are "unknown"
until their tools are too coarse to contradict, and a saw mark has to agree with the survey within their
common doubt (`mark.agreement`).
"""

import copy
from collections.abc import Iterator
from itertools import islice
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.check import check
from fitcheck.rules.finding import Finding
from fitcheck.rules.length import length_parse, mm_text
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import SIGNED, survey_read
from fitcheck.rules.uncertainty import reading_uncertainty
from tests.kept.members import inputs_of

Inputs = dict[str, Any]
CASES = {
    "width.window": "hinged_metric",
    "width.difference": "hinged_metric",
    "wall.lean": "hinged_metric",
    "sill.level": "hinged_metric",
    "sill.fall": "hinged_metric",
    "ceiling.height": "hinged_metric",
    "surround.height": "old_sheet",
    "curb.depth": "hinged_metric",
    "curb.flat": "hinged_metric",
    "backing.setback": "hinged_metric",
    "cut.stock": "slider_metric_tight",
    "cut.least": "slider_metric_tight",
    "cut.most": "slider_metric_tight",
    "fixing.stud_hit": "steel_in_contact",
    "anchor.edge": "anchors_all_known",
    "anchor.head_joint": "anchors_all_known",
    "sliding.overlap": "single_slider",
    "sliding.entry": "single_slider",
    "made.width": "made_glass_fits",
    "pane.gap": "made_glass_fits",
    "pane.head": "made_glass_fits",
}
TOLD_BY_DOUBT = {"mark.agreement"}
TAPES = [
    {"kind": "tape", "accuracy_class": one, "graduation": mark, "hook": hook}
    for one in ("I", "II", "III", "h44", "none")
    for mark in ("1/32 in", "1/16 in", "1 mm", "1/4 in")
    for hook in (False, True)
]
OTHERS = [
    {"kind": kind, "accuracy_class": "none", "graduation": mark, "hook": False}
    for kind in ("laser", "level", "square", "other")
    for mark in ("1 mm", "1/16 in", "1/4 in")
]
COARSE = {"kind": "tape", "accuracy_class": "none", "graduation": "1/4 in", "hook": True}
WIDEST_GUARD = "5"
TOOLS = st.sampled_from([*TAPES, *OTHERS])


def without_checks(inputs: Inputs) -> Inputs:
    """Leave out diagonals and repeats, so that few changes make readings contradict each other."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    for one in inputs["readings"]:
        place = (one["quantity"], one.get("side"), one.get("height"))
        if one["quantity"] != "diagonal" and place not in seen:
            kept.append(one)
        seen.add(place)
    return {**inputs, "readings": kept}


def found(inputs: Inputs) -> dict[tuple[str, str], Finding]:
    findings = check(inputs).findings
    places = [(one.rule, one.place) for one in findings]
    return {key: one for key, one in zip(places, findings, strict=True) if places.count(key) == 1}


def state_in(findings: dict[tuple[str, str], Finding], key: tuple[str, str]) -> str | None:
    return findings[key].state if key in findings else None


def moved(inputs: Inputs, ids: tuple[str, ...], by_nm: int) -> Inputs:
    changed = copy.deepcopy(inputs)
    for one in changed["readings"]:
        if one["id"] in ids:
            one["value"] = mm_text(length_parse(one["value"]).nm + by_nm)
    return changed


def with_tools(inputs: Inputs, tools: list[dict[str, object]]) -> Inputs:
    rows = zip(inputs["readings"], tools, strict=True)
    return {**inputs, "readings": [{**one, "tool": tool} for one, tool in rows]}


def doubts(inputs: Inputs) -> list[float]:
    return [reading_uncertainty(one) for one in survey_read(Strict(inputs, "", [])).readings]


def better(before: Inputs, after: Inputs) -> list[tuple[str, str]]:
    """Name what fits only because more is in doubt."""
    then = found(after)
    return [
        key
        for key, one in found(before).items()
        if key in then and key[0] not in TOLD_BY_DOUBT
        if (one.state in ("tight", "fails") and then[key].state == "fits")
        or (one.state == "fails" and then[key].state == "tight")
    ]


def readable(reading: dict[str, Any]) -> bool:
    return reading["quantity"] in SIGNED or length_parse(reading["value"]).nm > 0


def nearly(inputs: Inputs, finding: Finding) -> Iterator[Inputs]:
    """Move readings of one quantity so that a margin is half its guard band; or widen the band itself."""
    assert finding.margin is not None
    assert finding.guard_nm is not None
    by = abs(finding.margin.low_nm) - finding.guard_nm // 2
    rows = [one for one in inputs["readings"] if one["id"] in finding.readings]
    for quantity in dict.fromkeys(one["quantity"] for one in rows or inputs["readings"]):
        ids = tuple(one["id"] for one in inputs["readings"] if one["quantity"] == quantity)
        own = tuple(one for one in ids if one in finding.readings) or ids
        for chosen in dict.fromkeys((own, own[:1], own[-1:])):
            near = (moved(inputs, chosen, sign * by) for sign in (1, -1))
            yield from (one for one in near if all(map(readable, one["readings"])))
    yield {**inputs, "house": {**inputs.get("house", {}), "guard_factor": WIDEST_GUARD}}


@pytest.mark.parametrize("rule", CASES)
def test_a_margin_within_its_guard_band_is_tight_and_no_coarser_tool_makes_it_fit(
    rule: str,
) -> None:
    inputs = without_checks(inputs_of(CASES[rule]))
    findings = [(key, one) for key, one in found(inputs).items() if key[0] == rule]
    tried = ((key, near) for key, one in findings for near in nearly(inputs, one))
    tight = list(islice((n for key, n in tried if state_in(found(n), key) == "tight"), 3))

    assert tight
    for near in tight:
        coarse = with_tools(near, [COARSE] * len(near["readings"]))
        assert better(near, coarse) == []


@settings(max_examples=25)
@given(data=st.data(), name=st.sampled_from(sorted(set(CASES.values()))))
def test_drawn_readings_by_drawn_tools_never_fit_because_the_tools_are_coarser(
    data: st.DataObject, name: str
) -> None:
    inputs = without_checks(inputs_of(name))
    count = len(inputs["readings"])
    for one in inputs["readings"]:
        by = data.draw(st.integers(-100, 100), label=one["quantity"])
        nm = length_parse(one["value"]).nm + by * 100_000
        one["value"] = mm_text(abs(nm) if one["quantity"] == "width" else nm)
    pairs = data.draw(st.lists(st.tuples(TOOLS, TOOLS), min_size=count, max_size=count))
    one, other = (with_tools(inputs, [pair[n] for pair in pairs]) for n in (0, 1))
    surer = [a <= b for a, b in zip(doubts(one), doubts(other), strict=True)]
    fine = with_tools(inputs, [p[0] if s else p[1] for p, s in zip(pairs, surer, strict=True)])
    rough = with_tools(inputs, [p[1] if s else p[0] for p, s in zip(pairs, surer, strict=True)])

    assert better(fine, rough) == []


@settings(max_examples=25)
@given(
    name=st.sampled_from(sorted(set(CASES.values()))),
    factors=st.tuples(st.integers(0, 40), st.integers(0, 40)),
    shift=st.integers(-150, 150),
)
def test_a_larger_guard_factor_never_makes_anything_fit(
    name: str, factors: tuple[int, int], shift: int
) -> None:
    inputs = without_checks(inputs_of(name))
    ids = tuple(one["id"] for one in inputs["readings"] if one["quantity"] == "width")
    near = moved(inputs, ids, shift * 100_000)
    less, more = (
        {**near, "house": {**near.get("house", {}), "guard_factor": f"{each / 10:g}"}}
        for each in sorted(factors)
    )

    assert better(less, more) == []
