"""What takes longer to say of a verdict: every reading judged, the whole chance, the least change?

Worked out when somebody asks for it, from the same inputs, and kept beside the verdict.
"""

from collections.abc import Sequence
from dataclasses import replace

from fitcheck.rules.adjustment import shape_adjust
from fitcheck.rules.asked_case import Case
from fitcheck.rules.finding import Finding
from fitcheck.rules.least_change import least_change
from fitcheck.rules.one_more_reading import reading_advised
from fitcheck.rules.shape_report import shape_json
from fitcheck.rules.shape_state import NOTHING_SHAPES, SHAPING
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_2 import findings_2
from fitcheck.rules.whole_chance import whole_chance, with_fixings


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
    """
    shape = _shape(case)
    return {
        "rules_version": verdict.rules_version,
        "inputs_digest": verdict.inputs_digest,
        "shape": shape,
        "shape_why": None if shape else NOTHING_SHAPES,
        "chance": _chance(case, verdict),
        "least_change": None if verdict.state == "fits" else _change(case, verdict.findings),
    }


def _shape(case: Case) -> dict[str, object] | None:
    if not any(each.quantity in SHAPING for each in case.survey.readings):
        return None
    shape = shape_adjust(case.survey.readings)
    heights = case.sheet.heights(case.size)
    advice = reading_advised(shape, tuple(each.nm for each in heights)) if heights else None
    return shape_json(shape, heights, advice, case.house)


def _chance(case: Case, verdict: Verdict) -> dict[str, object]:
    found = whole_chance(
        case.survey,
        verdict.findings,
        lambda survey: findings_2(replace(case, survey=survey)),
    )
    return with_fixings(found, [each.state for each in verdict.fixings]).as_json()


def _change(case: Case, findings: Sequence[Finding]) -> dict[str, object]:
    return least_change(case, findings).as_json()
