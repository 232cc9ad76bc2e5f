"""What takes longer to say of a verdict: every reading judged, the whole chance, the least change?

Worked out when somebody asks for it, from the same inputs, and kept beside the verdict.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from fitcheck.rules.adjustment import shape_adjust
from fitcheck.rules.asked_case import Case
from fitcheck.rules.finding import Finding
from fitcheck.rules.impossible import impossible_finding, impossible_readings
from fitcheck.rules.least_change import least_change
from fitcheck.rules.one_more_reading import reading_advised_at
from fitcheck.rules.shape_report import shape_json
from fitcheck.rules.shape_state import NOTHING_SHAPES, SHAPING
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_2 import findings_2
from fitcheck.rules.version_3 import findings_3
from fitcheck.rules.version_4 import findings_4
from fitcheck.rules.whole_chance import Root, root_by_axes, root_even, whole_chance, with_fixings


@dataclass(frozen=True, slots=True)
class ByRules:
    """What differs by the version of the rules: their findings, and how the chance is drawn."""

    findings: Callable[[Case], tuple[Finding, ...]]
    root: Root


DEPTHS: Mapping[str, ByRules] = {
    "2": ByRules(findings_2, root_by_axes),
    "3": ByRules(findings_3, root_even),
    "4": ByRules(findings_4, root_even),
    "5": ByRules(findings_4, root_even),
}


def depth_of(case: Case, verdict: Verdict) -> dict[str, object]:
    """Tell the shape reading by reading, the chance of the whole, and what would make it fit.

    Source: as in `adjustment`, `whole_chance` and `least_change`; drawn with a fixed seed, so that
    the same verdict has the same chance.

    Args:
        case: survey, sheet, the verdict's size, and settings [-].
        verdict: the verdict on that case [-].

    Returns:
        Shape, chance and least change as plain JSON; a shape that no reading tells is null with
        the reason, and nothing is to be changed where everything fits [-].

    Raises:
        KeyError: the verdict's rules say no more than itself.
    """
    shape, why = _shape(case)
    return {
        "rules_version": verdict.rules_version,
        "inputs_digest": verdict.inputs_digest,
        "shape": shape,
        "shape_why": why,
        "chance": _chance(case, verdict),
        "least_change": None if verdict.state == "fits" else _change(case, verdict.findings),
    }


def _shape(case: Case) -> tuple[dict[str, object] | None, str | None]:
    """Return the shape, or why there is none."""
    readings, rules = case.survey.readings, case.house.rules
    if not any(each.quantity in SHAPING for each in readings):
        return None, NOTHING_SHAPES
    cannot_be = impossible_readings(readings) if rules >= 5 else []
    if any(one.quantity in SHAPING for each in cannot_be for one in each.readings):
        return None, impossible_finding(cannot_be).do
    shape = shape_adjust(readings, rules=rules)
    heights = case.sheet.heights(case.size)
    return shape_json(shape, heights, reading_advised_at(shape, heights), case.house), None


def _chance(case: Case, verdict: Verdict) -> dict[str, object]:
    rules = DEPTHS[verdict.rules_version]
    found = whole_chance(
        case.survey,
        verdict.findings,
        lambda survey: rules.findings(replace(case, survey=survey)),
        rules.root,
        both=case.house.rules >= 5,
    )
    return with_fixings(found, [each.state for each in verdict.fixings]).as_json()


def _change(case: Case, findings: Sequence[Finding]) -> dict[str, object]:
    return least_change(case, findings).as_json()
