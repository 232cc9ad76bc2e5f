"""How will each part be sawn if the brackets sit as the survey foretells, and how near must they be?"""

from fitcheck.rules.compare import spoken
from fitcheck.rules.cut_mark import CutForetold
from fitcheck.rules.cuts import AS_FIXED, CutAnswer
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.length import NM_PER_INCH, Length, computed, length_parse
from fitcheck.rules.readings import Readings
from fitcheck.rules.saw_told import mark_step_nm, saw_text
from fitcheck.rules.sawmark_checks import agreement, band_nm, fixed_doubt_mm
from fitcheck.rules.sawmark_read import MarkAsked, Predicted
from fitcheck.rules.sheet import CutRule, Sheet, Size, applies
from fitcheck.rules.survey import House, Reading, Survey, Tool
from fitcheck.rules.tables import SAME_HEIGHT
from fitcheck.rules.tables_saw import KERF_WHEN_NOT_SAID
from fitcheck.rules.tables_shape import USUAL_GRADUATION, USUAL_TOOL_CLASS
from fitcheck.rules.uncertainty import reading_uncertainty

NO_TAKE = (
    "The sheet does not say what the brackets take: the length is foretold from wall to wall, and "
    "the reading as fixed will be shorter."
)
AGREES = "Read the distance as fixed, twice, by two people: it must be {least} to {most}."


def cuts_foretold(
    sheet: Sheet,
    size: Size | None,
    answers: tuple[CutAnswer, ...],
    readings: Readings,
    survey: Survey,
    house: House,
) -> tuple[tuple[CutForetold, ...], tuple[Finding, ...]]:
    """Foretell each saw mark from the survey, and compare it with what was read as fixed.

    The survey is compared with the site only where the sheet says what the brackets take; without
    that the two are different distances.

    Source: JCGM 100:2008, 5.1.2, for the agreement; common practice for the second person.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        answers: the cuts, in the order of the sheet's rules that apply [-].
        readings: the readings, grouped [-].
        survey: the readings themselves [-].
        house: the firm's settings [-].

    Returns:
        One row per part, and the findings of the comparison [-].
    """
    rules = [rule for rule in sheet.cuts if applies(rule.sizes, size)]
    rows, findings = [], []
    for rule, answer in zip(rules, answers, strict=True):
        metric = sheet.unit == "metric"
        asked = _asked(rule, readings, survey, house, metric=metric)
        rows.append(_row(rule, answer, asked, house))
        if answer.waits:
            continue
        if asked and rule.brackets_take and answer.cut.status == AS_FIXED and asked.fixed:
            findings.append(agreement(asked, house))
    return tuple(rows), tuple(findings)


def _asked(
    rule: CutRule, readings: Readings, survey: Survey, house: House, *, metric: bool
) -> MarkAsked | None:
    width = readings.at("width", rule.height)
    if not isinstance(width, Measured):
        return None
    between = rule.measured == "between_brackets"
    taken = rule.brackets_take.nm if between and rule.brackets_take else 0
    predicted = Predicted(width.low_nm - taken, round(width.u_mm * 1_000_000))
    return MarkAsked(
        part=rule.part,
        predicted=predicted,
        fixed=_fixed(rule, survey) if between else (),
        deduct_nm=rule.deduct.nm,
        allowance_nm=rule.allowance.nm if rule.allowance else None,
        stock_nm=rule.stock.nm,
        least_nm=rule.least.nm if rule.least else None,
        most_nm=rule.most.nm if rule.most else None,
        end=rule.end,
        kerf_nm=rule.kerf.nm if rule.kerf else KERF_WHEN_NOT_SAID.value,
        metric=metric,
        sawn_nm=None,
    )


def _fixed(rule: CutRule, survey: Survey) -> tuple[Reading, ...]:
    near = SAME_HEIGHT.value
    return tuple(
        reading
        for reading in survey.readings
        if reading.quantity == "between_brackets"
        and reading.height
        and abs(reading.height.nm - rule.height.nm) <= near
    )


def _row(rule: CutRule, answer: CutAnswer, asked: MarkAsked | None, house: House) -> CutForetold:
    length = answer.cut.length
    mark_nm = saw = within = None
    do = answer.waits or "Known once the width is read where the part sits."
    between = rule.measured == "between_brackets"
    if not length and answer.cut.state == "fails":
        do = f"Do not cut: nothing of the {rule.part} is left to be sawn."
    elif asked and asked.predicted and length:
        step = mark_step_nm(house.mark, metric=asked.metric)
        mark_nm = length.low_nm // step * step
        saw = saw_text(asked, mark_nm, house) if mark_nm <= rule.stock.nm else None
        do = "Read the width where the part sits once more before the saw."
        if between and rule.brackets_take is None and answer.cut.status != AS_FIXED:
            saw, do = None, NO_TAKE
        elif between and rule.brackets_take:
            doubt_mm = fixed_doubt_mm(asked) if asked.fixed else _usual_doubt_mm(asked.predicted)
            within = band_nm(asked.predicted, doubt_mm, house)
            do = _agrees(asked.predicted.distance_nm, within, house)
    return CutForetold(
        rule.part,
        rule.height.entered,
        answer.cut.distance,
        mark_nm,
        saw,
        rule.end,
        rule.kerf.nm if rule.kerf else KERF_WHEN_NOT_SAID.value,
        rule.kerf is not None,
        rule.brackets_take,
        within,
        do,
        house.mark,
        asked.metric if asked else False,
    )


def _usual_doubt_mm(predicted: Predicted) -> float:
    """Return the doubt of the distance as fixed if the firm's usual tape reads it."""
    tool = Tool("tape", USUAL_TOOL_CLASS.value, length_parse(USUAL_GRADUATION.value), hook=False)
    value = Length(max(predicted.distance_nm, NM_PER_INCH), "")
    usual = Reading("as fixed", "between_brackets", "none", None, None, value, tool, "-", "-")
    return reading_uncertainty(usual)


def _agrees(distance_nm: int, within_nm: int, house: House) -> str:
    mark = house.mark
    if house.rules >= 5:
        return AGREES.format(
            least=spoken(distance_nm - within_nm, mark, up=True),
            most=spoken(distance_nm + within_nm, mark),
        )
    least = computed(distance_nm - within_nm, "up", mark)
    most = computed(distance_nm + within_nm, "down", mark)
    return AGREES.format(
        least=f"{least['inch']} ({least['mm']})", most=f"{most['inch']} ({most['mm']})"
    )
