"""How likely is it that every limit of the sheet is kept at once?"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules import tables_shape
from fitcheck.rules.asked_case import Case, case_read, inputs_opened, read_findings, wall_findings
from fitcheck.rules.chance_bounds import (
    bonferroni,
    far_standing_of,
    limit_chance,
    margin_of,
    standing_of,
)
from fitcheck.rules.finding import Finding, State
from fitcheck.rules.in_doubt import by_shape
from fitcheck.rules.length import Length
from fitcheck.rules.quadrilateral import shared_part
from fitcheck.rules.shape_told import shape_told
from fitcheck.rules.strict import InputErrors
from fitcheck.rules.survey import Reading, Survey
from fitcheck.rules.uncertainty import chance_text, reading_uncertainty

Array = NDArray[np.float64]
Findings = Callable[[Survey], Sequence[Finding]]
Root = Callable[[Array], Array]
FIXING_UNKNOWN = "Find out on site what each fixing goes into."
CORRELATION = (
    "Each limit keeps the chance of its own finding. Two limits go together as far as they rest on "
    "the same readings, or on readings of the same tape or laser, whose own error goes the same "
    "way in all of them. The bounds hold whatever goes together."
)


@dataclass(frozen=True, slots=True)
class WholeChance:
    """The chance that the whole verdict is right, its bounds, and what weakens it most."""

    chance: float | None
    at_least: float
    at_most: float
    limits: int
    unknown: int
    weakest: Finding | None
    draws: int
    seed: int
    why: str | None = None

    @property
    def standard_error(self) -> float | None:
        """Return how far the drawn chance may be off by the draws alone [-]."""
        if self.chance is None or not self.draws:
            return None
        return math.sqrt(self.chance * (1 - self.chance) / self.draws)

    def as_json(self) -> dict[str, object]:
        """Return the chance as plain JSON; it is rounded down and never quite certain."""
        error = self.standard_error
        return {
            "chance": None if self.chance is None else chance_text(self.chance),
            "standard_error": None if error is None else f"{error:.4f}",
            "at_least": chance_text(self.at_least),
            "at_most": chance_text(self.at_most),
            "limits": self.limits,
            "unknown": self.unknown,
            "weakest": _named(self.weakest) if self.weakest else None,
            "draws": self.draws,
            "seed": self.seed,
            "correlation": CORRELATION,
            "source": tables_shape.CHANCE_DRAWS.source.as_json(),
        }


def _named(finding: Finding) -> dict[str, object]:
    chance = finding.chance
    return {"rule": finding.rule, "place": finding.place, "chance": chance, "do": finding.do}


def root_even(together: Array) -> Array:
    """Return the symmetric root of a correlation matrix, the same on every processor [-].

    Source: the root of a symmetric matrix that is itself symmetric is the only one.
    """
    values, vectors = np.linalg.eigh(together)
    root: Array = (vectors * np.sqrt(np.clip(values, 0.0, None))) @ vectors.T
    return root


def root_by_axes(together: Array) -> Array:
    """Return the root by the axes that a processor's own library finds, as version 2 drew [-].

    Where limits go together as much as others do, libraries choose other axes, and the chance drawn
    may differ by one in its last place.
    """
    values, vectors = np.linalg.eigh(together)
    root: Array = vectors * np.sqrt(np.clip(values, 0.0, None))
    return root


def whole_chance(
    survey: Survey,
    findings: Sequence[Finding],
    again: Findings,
    root: Root = root_even,
    *,
    both: bool = True,
) -> WholeChance:
    """Return the chance that every limit is truly kept, with bounds that need no assumption.

    How the limits hang together is found by moving each reading a little and asking again. A
    finding that is unknown leaves the whole without a chance; one that fails for certain makes it
    nothing.

    Source: JCGM 106:2012, 7.2, for each limit; drawn with a fixed seed from the normal
    distribution with the correlations of the readings; bounds by Bonferroni and Frechet.

    Args:
        survey: the readings [-].
        findings: everything the verdict compared [-].
        again: asks for the measured findings of a changed survey [-].
        root: how the root of the correlations is taken [-].
        both: whether both limits of a window are counted; before version 5 the nearer one was [-].

    Returns:
        The chance with its bounds [-].
    """
    doubtful = [f for f in findings if f.margin is not None and f.margin.u_mm > 0]
    unknown = sum(f.state == "unknown" for f in findings)
    certain_failure = any(f.state == "fails" for f in findings if f not in doubtful)
    chances = [limit_chance(f, both=both) for f in doubtful]
    at_least = 0.0 if certain_failure or unknown else bonferroni(chances)
    at_most = 0.0 if certain_failure else min(chances, default=1.0)
    weakest = doubtful[chances.index(min(chances))] if chances else None
    chance: float | None = None
    draws, seed = 0, tables_shape.CHANCE_SEED.value
    if certain_failure:
        chance = 0.0
    elif not unknown:
        chance, draws = 1.0, 0
        if doubtful:
            draws = tables_shape.CHANCE_DRAWS.value
            together = correlations(survey, doubtful, again)
            far = [far_standing_of(f) for f in doubtful] if both else None
            near = [standing_of(f) for f in doubtful]
            drawn = joint_chance(near, root(together), draws, seed, far)
            chance = min(max(drawn, at_least), at_most)
    why = next((f.do for f in findings if f.state == "unknown"), None) if chance is None else None
    return WholeChance(chance, at_least, at_most, len(doubtful), unknown, weakest, draws, seed, why)


def joint_chance(
    standings: Sequence[float],
    root: Array,
    draws: int,
    seed: int,
    far: Sequence[float] | None = None,
) -> float:
    """Return the share of drawn worlds in which every margin stays positive, to either limit.

    Source: drawn from the normal distribution, numpy's default generator with a seed.

    Args:
        standings: each margin over its standard uncertainty [-].
        root: a root of the correlation matrix of the margins [-].
        draws: how many worlds are drawn [-].
        seed: the seed [-].
        far: the same for the farther limits, without end where there is none [-].

    Returns:
        The share [-].
    """
    worlds = np.random.default_rng(seed).standard_normal((draws, len(standings))) @ root.T
    kept = worlds + np.asarray(standings) >= 0.0
    if far is not None:
        kept &= worlds <= np.asarray(far)
    return float(np.mean(np.all(kept, axis=1)))


def correlations(survey: Survey, doubtful: Sequence[Finding], again: Findings) -> Array:
    """Return how the errors of several margins go together.

    Source: JCGM 100:2008, 5.2.2, with the tool's own error fully shared by its readings.

    Args:
        survey: the readings [-].
        doubtful: the findings, each with a margin [-].
        again: asks for the findings of a changed survey [-].

    Returns:
        The correlation matrix [-].
    """
    used = {one for finding in doubtful for one in finding.readings}
    readings = [each for each in survey.readings if each.id in used]
    slopes = np.array([_slopes(survey, each, doubtful, again) for each in readings])
    slopes = slopes.reshape(len(readings), len(doubtful)).T
    u = [reading_uncertainty(each) for each in readings]
    shared = np.array([shared_part(each, one) for each, one in zip(readings, u, strict=True)])
    own = np.square(u) - np.square(shared)
    covariance = (slopes * own) @ slopes.T
    for tool in dict.fromkeys(each.tool for each in readings):
        along = slopes @ np.where([each.tool == tool for each in readings], shared, 0.0)
        covariance += np.outer(along, along)
    spread = np.sqrt(np.diag(covariance))
    spread = np.where(spread > 0, spread, 1.0)
    together: Array = covariance / np.outer(spread, spread)
    np.fill_diagonal(together, 1.0)
    return together


def _slopes(
    survey: Survey, moved: Reading, doubtful: Sequence[Finding], again: Findings
) -> list[float]:
    """Move one reading a little and see how each margin follows; the other way if that breaks it."""
    step = tables_shape.NUDGE.value
    up = _margins(again(_with(survey, moved, step)))
    down = up if up.keys() >= set(map(_key, doubtful)) else None
    found = []
    for finding in doubtful:
        key, start = _key(finding), margin_of(finding).low_nm
        if key in up:
            found.append((up[key] - start) / step)
            continue
        down = _margins(again(_with(survey, moved, -step))) if down is None else down
        found.append((start - down[key]) / step if key in down else 0.0)
    return found


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.rule, finding.place, finding.question


def _margins(findings: Sequence[Finding]) -> dict[tuple[str, str, str], int]:
    return {_key(f): f.margin.low_nm for f in findings if f.margin is not None}


def _with(survey: Survey, moved: Reading, step_nm: int) -> Survey:
    value = Length(moved.value.nm + step_nm, moved.value.entered)
    changed = replace(moved, value=value)
    return replace(
        survey, readings=tuple(changed if r.id == moved.id else r for r in survey.readings)
    )


def case_chance(case: Case) -> WholeChance:
    """Return the chance that a sheet's every rule is truly kept by an opening.

    What rests on readings that contradict each other has none.

    Args:
        case: survey, sheet, size and settings [-].

    Returns:
        The chance with its bounds; a fixing that is not known leaves it without one [-].
    """
    walls, fixings = wall_findings(case)
    shape = shape_told(case.survey, case.sheet.heights(case.size), case.house)
    found = whole_chance(
        case.survey,
        by_shape([*read_findings(case), *walls], shape),
        lambda survey: read_findings(replace(case, survey=survey)),
    )
    return with_fixings(found, fixings)


def with_fixings(found: WholeChance, fixings: Sequence[State]) -> WholeChance:
    """Return the chance when the fixings are counted in: one that is not known leaves none.

    Args:
        found: the chance by the findings alone [-].
        fixings: the state of each fixing [-].

    Returns:
        The chance with its bounds [-].
    """
    if "fails" in fixings:
        return replace(found, chance=0.0, at_least=0.0, at_most=0.0, draws=0, why=None)
    if "unknown" in fixings and found.chance != 0.0:
        more = sum(state == "unknown" for state in fixings)
        unknown, why = found.unknown + more, found.why or FIXING_UNKNOWN
        return replace(found, chance=None, at_least=0.0, unknown=unknown, draws=0, why=why)
    return found


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer how surely a kit fits an opening; nothing is stored.

    Args:
        inputs: opening, readings, zones, sheet, size and house, as for a verdict [-].

    Returns:
        The chance of the whole as plain JSON; with none, why, and what to read or ask first [-].

    Raises:
        InputErrors: the inputs are malformed.
    """
    own = inputs_opened(inputs)
    case = case_read(own)
    if case is None:
        raise InputErrors(own.errors)
    found = case_chance(case)
    return {**found.as_json(), "why": found.why}
