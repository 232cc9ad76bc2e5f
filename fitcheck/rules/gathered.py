"""How are the parts of a case gathered into one verdict?"""

from fitcheck.rules.asked_case import Case
from fitcheck.rules.cautions import cautions
from fitcheck.rules.finding import worst
from fitcheck.rules.holes import fixing_questions
from fitcheck.rules.parts import Parts
from fitcheck.rules.summary import missing_readings, summary
from fitcheck.rules.verdict import Members, Verdict


def verdict_of(
    case: Case, parts: Parts, version: str, digest: str, deep: Members | None = None
) -> Verdict:
    """Gather the parts into a verdict.

    Args:
        case: survey, sheet and settings [-].
        parts: what was worked out [-].
        version: the version of the rules [-].
        digest: digest of the inputs [-].
        deep: what this version adds [-].

    Returns:
        The verdict [-].
    """
    findings, mark = parts.findings, case.house.mark
    fixings = tuple(answer.fixing for answer in parts.fixings)
    state = worst([*(f.state for f in findings), *(fixing.state for fixing in fixings)])
    sheet = case.sheet
    return Verdict(
        rules_version=version,
        inputs_digest=digest,
        state=state,
        size=parts.size.code if parts.size else None,
        summary=summary(state, parts.size, list(findings), mark, made=_made(case)),
        findings=findings,
        missing=missing_readings(findings, parts.readings.disagreements),
        disagreements=tuple(parts.readings.disagreements),
        cuts=tuple(answer.cut for answer in parts.cuts),
        fixings=fixings,
        panels=parts.panes.panels,
        hands_needed=parts.panes.hands,
        sealant=parts.beads,
        cure_hours=sheet.cure.amount if sheet.cure else None,
        cautions=cautions(case.survey, case.house),
        questions=(*fixing_questions(list(parts.fixings)), *parts.panes.questions),
        deep=deep,
    )


def _made(case: Case) -> bool:
    """Return whether the sheet cuts glass to the opening under one name; said from version 5 on."""
    sheet = case.sheet
    return sheet.made_glass is not None and len(sheet.sizes) == 1 and case.house.rules >= 5
