"""How likely is a limit kept, and between which bounds lies the chance that all are?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.uncertainty import chance_text, normal_share


@dataclass(frozen=True, slots=True)
class ChanceBounds:
    """Between which bounds the chance of the whole lies, whatever goes together."""

    at_least: float
    at_most: float
    limits: int
    unknown: int
    weakest: Finding | None

    def as_json(self) -> dict[str, object]:
        """Return the bounds as plain JSON, rounded down and never quite certain."""
        weakest = self.weakest
        return {
            "at_least": chance_text(self.at_least),
            "at_most": chance_text(self.at_most),
            "limits": self.limits,
            "unknown": self.unknown,
            "weakest": {"rule": weakest.rule, "place": weakest.place, "chance": weakest.chance}
            if weakest
            else None,
        }


def chance_bounds(
    findings: Sequence[Finding], unknown_fixings: int = 0, *, both: bool = True
) -> ChanceBounds:
    """Return the bounds of the chance that every limit is truly kept.

    A finding that is unknown leaves nothing sure; one that fails for certain makes it nothing.

    Source: JCGM 106:2012, 7.2, for each limit; Bonferroni and Frechet for all of them.

    Args:
        findings: everything the verdict compared [-].
        unknown_fixings: fixings that are not known though no finding says so [-].
        both: whether both limits of a window are counted, as from version 5 on [-].

    Returns:
        The bounds [-].
    """
    doubtful = [f for f in findings if f.margin is not None and f.margin.u_mm > 0]
    unknown = sum(f.state == "unknown" for f in findings) + unknown_fixings
    kept = {id(f) for f in doubtful}
    failed = any(f.state == "fails" and id(f) not in kept for f in findings)
    chances = [limit_chance(f, both=both) for f in doubtful]
    least = min(chances, default=1.0)
    at_least = 0.0 if failed or unknown else bonferroni(chances)
    at_most = 0.0 if failed else least
    weakest = doubtful[chances.index(least)] if chances else None
    return ChanceBounds(at_least, at_most, len(doubtful), unknown, weakest)


def standing_of(finding: Finding) -> float:
    """Return a finding's margin over its standard uncertainty.

    Args:
        finding: a finding with a margin and an uncertainty [-].

    Returns:
        The ratio [-].

    Raises:
        ValueError: the finding has no margin.
    """
    margin = margin_of(finding)
    return margin.low_nm / NM_PER_MM / margin.u_mm


def margin_of(finding: Finding) -> Measured:
    """Return a finding's margin.

    Args:
        finding: a finding with a margin [-].

    Returns:
        The margin [nm, mm].

    Raises:
        ValueError: the finding has no margin.
    """
    if finding.margin is None:
        raise ValueError("only a finding with a margin has a chance")
    return finding.margin


def far_standing_of(finding: Finding) -> float:
    """Return the distance to a finding's farther limit over the standard uncertainty.

    Args:
        finding: a finding with a margin and an uncertainty [-].

    Returns:
        The ratio; without end where there is one limit only [-].

    Raises:
        ValueError: the finding has no margin.
    """
    u_mm = margin_of(finding).u_mm
    return math.inf if finding.far_nm is None else finding.far_nm / NM_PER_MM / u_mm


def limit_chance(finding: Finding, *, both: bool = True) -> float:
    """Return the chance that a finding's limits are truly kept, the one that the finding prints.

    Source: JCGM 106:2012, 7.2 for one limit, 7.4 for two.

    Args:
        finding: a finding with a margin and an uncertainty [-].
        both: whether the farther limit of a window is counted, as from version 5 on [-].

    Returns:
        The chance, not rounded [-].

    Raises:
        ValueError: the finding has no margin.
    """
    near = normal_share(standing_of(finding))
    if not both or finding.far_nm is None:
        return near
    return max(0.0, near - normal_share(-far_standing_of(finding)))


def bonferroni(chances: Sequence[float]) -> float:
    """Return the least chance that all of several things are so, whatever goes together.

    Source: Bonferroni: 1 - sum(1 - p), not less than 0.

    Args:
        chances: the chance of each [-].

    Returns:
        The least chance of all together [-].
    """
    return max(0.0, 1.0 - sum(1.0 - p for p in chances))
