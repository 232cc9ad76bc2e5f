"""What takes longer to say of a verdict? Worked out when first asked for, and kept beside it."""

from contractor.api.problems import Problem
from contractor.api.written import Written
from fitcheck.check import SAY_MORE, depth
from fitcheck.rules.sheet_parse import sheet_parse
from jobs.verdicts.models import Depth, Verdict


def verdict_depth(*, verdict: Verdict) -> Written:
    """Tell every reading judged, the chance of the whole and the least change.

    The survey's own request never waits for it. Two who ask at once work out the same; one is kept.

    Raises:
        Problem: the verdict was given by older rules, which do not know of it.
    """
    kept = Depth.objects.filter(pk=verdict.pk).first()
    if kept is not None:
        return kept.result  # type: ignore[no-any-return]
    if verdict.rules_version not in SAY_MORE:
        raise Problem(
            "no_depth",
            f"Rules of version {verdict.rules_version} do not say more than the verdict itself.",
            status=404,
            hint="Ask for the verdict anew: POST /api/v1/verdicts/.",
        )
    told = depth_again(verdict)
    Depth.objects.bulk_create([Depth(verdict=verdict, result=told)], ignore_conflicts=True)
    return told


def depth_again(verdict: Verdict) -> Written:
    """Work it out from the verdict's kept inputs, by the rules that it was given by."""
    sheet = sheet_parse(verdict.sheet.body)
    return Written.of(depth(verdict.inputs, sheet, verdict.rules_version))


def depth_differs(verdict: Verdict) -> bool:
    """Tell whether what is kept beside a verdict would come out otherwise today."""
    kept = Depth.objects.filter(pk=verdict.pk).first()
    return kept is not None and kept.result.text != depth_again(verdict).text
