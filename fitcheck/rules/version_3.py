"""What do the rules of version 3 say of a case: those of version 2, and the glass made to measure?"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from fitcheck.rules.asked_case import Case
from fitcheck.rules.chance_bounds import chance_bounds
from fitcheck.rules.deep import Deep
from fitcheck.rules.finding import Finding
from fitcheck.rules.gathered import verdict_of
from fitcheck.rules.in_doubt import cuts_in_doubt
from fitcheck.rules.made_panels import made_case, made_panes, made_parts
from fitcheck.rules.made_told import MadeTold, made_told
from fitcheck.rules.parts import Parts, parts_of
from fitcheck.rules.shape_told import shape_told
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_2 import Borne, findings_2, judged

VERSION = "3"
Walls = Callable[[Case, Parts], tuple[Parts, Borne | None]]


@dataclass(frozen=True, slots=True)
class WithMade:
    """The members of version 2, and the glass made to measure; null when the sheet describes none."""

    deep: Deep
    made: MadeTold | None

    def as_json(self) -> dict[str, object]:
        """Return the members as plain JSON."""
        return {**self.deep.as_json(), "made_glass": self.made.as_json() if self.made else None}


def verdict_3(case: Case, digest: str) -> Verdict:
    """Answer by the rules of version 3.

    Source: each part's own; what the sheet leaves out is not judged.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].

    Returns:
        The verdict [-].
    """
    return with_made(case, digest, VERSION, parts_of(case), _as_they_are)


def with_made(case: Case, digest: str, version: str, parts: Parts, walls: Walls) -> Verdict:
    """Answer with the glass that is made to measure, once the walls were asked what they hold.

    Source: each part's own.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].
        version: the version that is answered by [-].
        parts: what the first rules worked out [-].
        walls: what that version asks of the walls [-].

    Returns:
        The verdict [-].
    """
    shape = shape_told(case.survey, case.sheet.heights(parts.size), case.house)
    made = made_told(case, shape)
    if made:
        case = made_case(case, made)
        parts = made_parts(parts, case, made)
    parts, borne = walls(case, parts)
    findings, deep = judged(case, parts, shape, borne)
    if made:
        made = made.doubted(shape.doubted)
        findings = (*findings, *made.findings)
        unknown = sum(answer.fixing.state == "unknown" for answer in parts.fixings)
        panes = made_panes(deep.panes, made)
        chance = chance_bounds(findings, unknown, both=case.house.rules >= 5)
        deep = replace(deep, panes=panes, chance=chance)
    cut = cuts_in_doubt(parts.cuts, shape.doubted)
    told = replace(parts, cuts=cut, findings=findings)
    return verdict_of(case, told, version, digest, WithMade(deep, made))


def _as_they_are(case: Case, parts: Parts) -> tuple[Parts, None]:
    """Leave the walls to version 2."""
    return parts, None


def findings_3(case: Case) -> tuple[Finding, ...]:
    """Return the findings of version 3 as if no reading were in doubt.

    Args:
        case: survey, sheet, settings and size [-].

    Returns:
        The findings [-].
    """
    return findings_with_made(case, findings_2)


def findings_with_made(
    case: Case, plain: Callable[[Case], tuple[Finding, ...]]
) -> tuple[Finding, ...]:
    """Return the findings of a version with those on glass made to measure.

    Args:
        case: survey, sheet, settings and size [-].
        plain: the findings of that version without such glass [-].

    Returns:
        The findings [-].
    """
    if case.sheet.made_glass is None:
        return plain(case)
    shape = shape_told(case.survey, case.sheet.heights(case.size), case.house)
    made = made_told(case, shape)
    return (*plain(made_case(case, made)), *made.findings) if made else plain(case)
