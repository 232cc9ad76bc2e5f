"""The chance of the whole verdict: never better than its weakest limit, never worse than the bound."""

import copy
import random
from collections.abc import Callable
from dataclasses import replace
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.check import check
from fitcheck.rules.asked_case import Case, case_read, inputs_opened, read_findings, wall_findings
from fitcheck.rules.finding import Finding
from fitcheck.rules.length import Length
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.survey import Survey
from fitcheck.rules.uncertainty import chance_text, reading_uncertainty
from fitcheck.rules.whole_chance import (
    _slopes,
    answer,
    bonferroni,
    case_chance,
    correlations,
    joint_chance,
    limit_chance,
    root_even,
    whole_chance,
)
from tests.fitcheck.conftest import fresh

Inputs = dict[str, Any]
NORMAL = NormalDist()


def case_of(inputs: Inputs) -> Case:
    own = inputs_opened(inputs)
    case = case_read(own)
    assert case is not None, own.errors
    return case


def doubtful(case: Case) -> list[Finding]:
    return [f for f in read_findings(case) if f.margin is not None and f.margin.u_mm > 0]


def again(case: Case) -> Callable[..., list[Finding]]:
    return lambda survey: read_findings(replace(case, survey=survey))


def tightened(bypass: Inputs) -> Inputs:
    """The sample with limits close to what was read."""
    sheet = bypass["sheet"]
    sheet["width_difference"]["most"] = "1/8 in"
    sheet["level"]["most"] = "1/16 in"
    sheet["sizes"][1]["windows"][0]["least"] = "56 1/8 in"
    sheet["sizes"][1]["windows"][1]["least"] = "56 3/16 in"
    bypass["size"] = "58"
    return bypass


@pytest.mark.parametrize("name", ["bypass", "hinged"])
def test_the_case_has_the_findings_of_the_verdict(
    name: str, request: pytest.FixtureRequest
) -> None:
    inputs = request.getfixturevalue(name)
    walls, _ = wall_findings(case_of(inputs))

    found = {str(f) for f in [*read_findings(case_of(inputs)), *walls]}

    asked_of_the_wall = {str(f) for f in check(inputs).findings if f.rule == "fixing.load"}
    assert asked_of_the_wall
    assert found == {str(f) for f in check(inputs).findings} - asked_of_the_wall


def test_a_roomy_opening_is_all_but_certain(bypass: Inputs) -> None:
    found = answer(bypass)

    assert found["chance"] == "0.999"
    assert found["unknown"] == 0
    assert found["limits"] == len(doubtful(case_of(bypass)))
    assert (found["draws"], found["seed"]) == (20_000, 20_251)


def test_the_same_question_has_the_same_answer(bypass: Inputs) -> None:
    assert answer(tightened(bypass)) == answer(copy.deepcopy(bypass))


def test_the_weakest_limit_is_named_and_bounds_the_whole(bypass: Inputs) -> None:
    case = case_of(tightened(bypass))

    found = case_chance(case)

    assert found.weakest is not None
    assert found.at_most == pytest.approx(min(map(limit_chance, doubtful(case))))
    assert found.chance is not None
    assert 0.1 < found.at_least < found.chance < found.at_most < 0.95
    assert found.at_least == pytest.approx(bonferroni([limit_chance(f) for f in doubtful(case)]))
    weakest = found.as_json()["weakest"]
    assert weakest["rule"] == found.weakest.rule  # type: ignore[index]


def narrowed(bypass: Inputs) -> Inputs:
    """A window of 1.6 mm around the width at the sill, read to 0.68 mm: either limit may be broken."""
    window = bypass["sheet"]["sizes"][1]["windows"][0]
    window |= {"least": "56 11/64 in", "most": "56 15/64 in"}
    return {**bypass, "size": "58"}


@pytest.mark.parametrize("changed", [tightened, narrowed])
def test_each_limit_has_the_chance_that_its_finding_prints(
    bypass: Inputs, changed: Callable[[Inputs], Inputs]
) -> None:
    for finding in doubtful(case_of(changed(bypass))):
        assert chance_text(limit_chance(finding)) == finding.chance


def test_the_whole_is_never_surer_than_a_window_that_both_limits_of_may_be_broken(
    bypass: Inputs,
) -> None:
    """By hand: 0.79375 mm either way over u = 0.68 mm keeps 2 Phi(1.16) - 1 = 0.75; one limit 0.88."""
    told: Any = check(narrowed(bypass)).as_json()
    found: Inputs = answer(narrowed(bypass))
    (window,) = [
        f
        for f in told["findings"]
        if (f["rule"], f["place"]) == ("width.window", "0 in above the sill")
    ]

    assert 0.74 < float(window["chance"]) < 0.77
    assert told["chance"]["at_most"] == found["at_most"] == window["chance"]
    assert told["chance"]["at_least"] <= window["chance"]
    assert found["at_least"] <= found["chance"] <= window["chance"]
    assert float(found["chance"]) > 0.6
    before: Any = check(narrowed(bypass), version="4").as_json()["chance"]
    assert 0.86 < float(before["at_most"]) < 0.89


def test_what_lies_between_two_limits_is_drawn_between_both() -> None:
    found = joint_chance([1.0], np.eye(1), 200_000, 3, [0.5])

    assert found == pytest.approx(NORMAL.cdf(0.5) - NORMAL.cdf(-1.0), abs=0.004)


def test_two_widths_of_one_tape_go_together_and_a_level_goes_alone(bypass: Inputs) -> None:
    case = case_of(tightened(bypass))
    found = doubtful(case)
    rows = {(f.rule, f.place): n for n, f in enumerate(found)}

    together = correlations(case.survey, found, again(case))

    sill, middle = (
        rows["width.window", "0 in above the sill"],
        rows["width.window", "36 in above the sill"],
    )
    level = rows["sill.level", "sill, end to end"]
    assert together[sill, middle] == pytest.approx(0.404**2 / (0.404**2 + 0.5585**2 / 2), abs=0.02)
    assert together[sill, level] == 0
    assert np.diag(together) == pytest.approx(np.ones(len(found)))
    assert together == pytest.approx(together.T)


def test_opposite_limits_of_one_reading_go_against_each_other(bypass: Inputs) -> None:
    case = case_of(bypass)
    one = next(f for f in doubtful(case) if f.rule == "sill.level")

    def asked(survey: object) -> list[Finding]:
        (found,) = [f for f in again(case)(survey) if f.rule == "sill.level"]
        assert found.margin is not None
        away = replace(found.margin, low_nm=-found.margin.low_nm, high_nm=-found.margin.low_nm)
        return [found, replace(found, rule="other", margin=away)]

    together = correlations(case.survey, asked(case.survey), asked)

    assert one.margin is not None
    assert together[0, 1] == pytest.approx(-1)


def test_the_drawn_chance_agrees_with_a_simulation_of_the_readings(bypass: Inputs) -> None:
    """Read the tightened opening again and again, with independent and shared errors, and count."""
    inputs = tightened(bypass)
    inputs["readings"] = [r for n, r in enumerate(inputs["readings"]) if n not in (1, 3, 5)]
    for window in inputs["sheet"]["sizes"][1]["windows"]:
        window["height"] = {"73 in": "72 in"}.get(window["height"], window["height"])
    inputs["sheet"]["width_difference"] = None
    case = case_of(inputs)
    found = doubtful(case)
    chance = random.Random(5)
    kept, rounds = 0, 4000
    start = {(f.rule, f.place, f.question): f.margin.low_nm / 1e6 for f in found if f.margin}
    slopes: dict[str, dict[tuple[str, str, str], float]] = {}
    for one in case.survey.readings:
        moved = replace(one, value=Length(one.value.nm + 10_000, "-"))
        survey = replace(
            case.survey,
            readings=tuple(moved if r.id == one.id else r for r in case.survey.readings),
        )
        slopes[one.id] = {
            key: (f.margin.low_nm / 1e6 - start[key]) / 0.01
            for f in again(case)(survey)
            if f.margin and (key := (f.rule, f.place, f.question)) in start
        }
    for _ in range(rounds):
        tape = chance.gauss(0, 1)
        margins = dict(start)
        for one in case.survey.readings:
            u = reading_uncertainty(one)
            shared = 0.7 / 3**0.5 if one.tool.kind == "tape" else 0.0
            shared = 1.1 / 3**0.5 if one.value.nm > 2 * 10**9 and shared else shared
            shared = 0.5 / 3**0.5 if one.value.nm <= 10**9 and shared else shared
            error = shared * tape + (u * u - shared * shared) ** 0.5 * chance.gauss(0, 1)
            for key, slope in slopes[one.id].items():
                margins[key] += slope * error
        kept += all(margin >= 0 for margin in margins.values())

    drawn = case_chance(case).chance

    assert drawn is not None
    assert 0.3 < drawn < 0.99
    assert drawn == pytest.approx(kept / rounds, abs=0.025)


@pytest.mark.parametrize("rho", [-0.5, 0.0, 0.5, 0.9])
def test_two_limits_met_exactly_are_both_kept_by_sheppards_formula(rho: float) -> None:
    # P(both positive) = 1/4 + asin(rho) / (2 pi): a closed form that no draw knows of
    found = joint_chance([0.0, 0.0], root_even(np.array([[1, rho], [rho, 1]])), 200_000, 3)

    assert found == pytest.approx(0.25 + np.arcsin(rho) / (2 * np.pi), abs=0.004)


def test_limits_that_go_apart_multiply() -> None:
    found = joint_chance([0.5, 1.0, 1.5], np.eye(3), 200_000, 3)

    assert found == pytest.approx(NORMAL.cdf(0.5) * NORMAL.cdf(1.0) * NORMAL.cdf(1.5), abs=0.004)


def test_limits_that_go_wholly_together_are_as_sure_as_the_weakest() -> None:
    found = joint_chance([0.5, 1.0], root_even(np.ones((2, 2))), 200_000, 3)

    assert found == pytest.approx(NORMAL.cdf(0.5), abs=0.004)


@given(st.lists(st.floats(0, 1), max_size=6))
def test_the_bound_is_never_above_independence(chances: list[float]) -> None:
    assert 0 <= bonferroni(chances) <= float(np.prod(chances)) + 1e-12


def test_an_unread_limit_leaves_the_whole_without_a_chance(
    bypass: Inputs, read: Callable[..., None]
) -> None:
    read(bypass, "lean", None, "left")

    found = answer(bypass)

    assert found["chance"] is None
    assert (found["unknown"], found["at_least"], found["at_most"]) == (1, "0.000", "0.999")
    assert found["standard_error"] is None


def test_readings_that_contradict_each_other_leave_no_chance_and_say_so_first(
    bypass: Inputs,
) -> None:
    for n in (2, 3):
        bypass["readings"][n]["value"] = "57 1/4 in"

    found = answer(bypass)

    assert (found["chance"], found["at_least"]) == (None, "0.000")
    assert float(str(found["unknown"])) >= 1
    assert "contradict" in str(found["why"])
    assert answer(fresh("inputs_bypass"))["why"] is None


def test_a_certain_failure_leaves_no_chance(bypass: Inputs) -> None:
    bypass["opening"]["stands_on"] = "tub_deck"
    bypass["sheet"]["stands_on"] = ["curb"]

    found = answer(bypass)

    assert (found["chance"], found["at_least"], found["at_most"]) == ("0.000", "0.000", "0.000")


def test_a_fixing_that_is_not_known_leaves_the_whole_without_a_chance(bypass: Inputs) -> None:
    bypass["zones"][0]["structure"] = "unknown"
    bypass["sheet"]["substrates"] = None

    found = answer(bypass)

    assert found["chance"] is None
    assert found["why"]


def test_a_failing_limit_still_has_its_own_chance(bypass: Inputs) -> None:
    bypass["sheet"]["level"]["most"] = "1/64 in"

    found = answer(bypass)

    assert 0 < float(str(found["chance"])) < 0.5
    assert found["weakest"]["rule"] == "sill.level"  # type: ignore[index]


def test_nothing_limited_is_certain_and_prints_as_nearly_so(bypass: Inputs) -> None:
    case = case_of(bypass)

    found = whole_chance(case.survey, [], lambda survey: [])

    assert (found.chance, found.at_least, found.at_most) == (1.0, 1.0, 1.0)
    assert found.weakest is None
    assert found.as_json()["chance"] == "0.999"


def test_a_finding_without_a_margin_has_no_chance(bypass: Inputs) -> None:
    (word,) = [f for f in read_findings(case_of(bypass)) if f.margin is None]

    with pytest.raises(ValueError, match="with a margin"):
        limit_chance(word)


def test_malformed_inputs_are_refused(bypass: Inputs) -> None:
    bypass["sheet"]["knd"] = 1
    bypass["readings"][0]["value"] = 5

    with pytest.raises(InputErrors) as caught:
        answer(bypass)

    assert [e.pointer for e in caught.value.errors] == ["/readings/0/value", "/sheet/knd"]


def test_a_size_that_the_sheet_does_not_have_is_refused(bypass: Inputs) -> None:
    bypass["size"] = "99"

    with pytest.raises(InputErrors) as caught:
        answer(bypass)

    assert [(e.pointer, e.code) for e in caught.value.errors] == [("/size", "size_unknown")]
    assert caught.value.errors[0].hint == "sizes: 54, 58"


def test_a_reading_that_can_only_be_moved_down_still_tells_how_a_margin_follows(
    bypass: Inputs,
) -> None:
    """Two readings that just agree stop agreeing when one is moved up: the margin is lost then."""
    case = case_of(bypass)
    found = [f for f in doubtful(case) if f.rule in ("sill.level", "width.difference")]
    level = next(r for r in case.survey.readings if r.quantity == "sill_level")

    def fragile(survey: Survey) -> list[Finding]:
        moved = next(r for r in survey.readings if r.id == level.id)
        rules = ["width.difference"] if moved.value.nm > level.value.nm else ["sill.level"]
        return [f for f in again(case)(survey) if f.rule in {"width.difference", *rules}]

    assert correlations(case.survey, found, fragile) == pytest.approx(
        correlations(case.survey, found, again(case))
    )
    rows = {f.rule: n for n, f in enumerate(found)}
    spread = _slopes(case.survey, level, found, fragile)
    assert spread[rows["sill.level"]] == pytest.approx(-1.0)
    assert spread[rows["width.difference"]] == 0.0


def test_a_margin_that_is_lost_either_way_counts_as_not_following(bypass: Inputs) -> None:
    case = case_of(bypass)
    found = [f for f in doubtful(case) if f.rule == "sill.level"]
    level = next(r for r in case.survey.readings if r.quantity == "sill_level")

    assert _slopes(case.survey, level, found, lambda survey: []) == [0.0]


def test_a_margin_that_follows_no_reading_goes_alone(bypass: Inputs) -> None:
    case = case_of(bypass)
    found = [f for f in doubtful(case) if f.rule in ("sill.level", "sill.fall")]

    together = correlations(case.survey, found, lambda survey: found)

    assert together.tolist() == [[1.0, 0.0], [0.0, 1.0]]


def test_the_draws_leave_an_error_that_is_told(bypass: Inputs) -> None:
    found = case_chance(case_of(tightened(bypass)))

    p = found.chance
    assert p is not None
    assert found.standard_error == pytest.approx((p * (1 - p) / 20_000) ** 0.5)
    assert found.as_json()["standard_error"] == f"{found.standard_error:.4f}"
    assert replace(found, draws=0).standard_error is None
    assert replace(found, chance=None).standard_error is None


@pytest.mark.parametrize("ties", [np.ones((3, 3)), np.eye(3), np.array([[1, 0.5], [0.5, 1]])])
def test_the_root_of_the_correlations_is_the_even_one(ties: Any) -> None:
    # Of all roots of a matrix only one is symmetric with no negative axis: no library may choose another.
    root = root_even(ties)

    assert root == pytest.approx(root.T)
    assert root @ root == pytest.approx(ties)
    assert np.linalg.eigvalsh(root).min() >= -1e-12
