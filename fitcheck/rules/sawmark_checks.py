"""Which comparisons must hold before a saw mark is released?"""

import math

from fitcheck.rules.compare import Asked, advised, compared, spoken
from fitcheck.rules.finding import Finding, Measured, State
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM
from fitcheck.rules.sawmark_read import MarkAsked, Predicted
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.survey import House
from fitcheck.rules.tables_saw import COARSEST_GRADUATION, FAR_SHORT, READERS, WIDEST_BAND
from fitcheck.rules.uncertainty import combined, guard_band_nm, reading_uncertainty


def reader_checks(asked: MarkAsked, house: House) -> list[Finding]:
    """Check that two people read the distance as fixed, finely enough, and agree.

    Source: common practice, no source; one graduation is what two readers of one tape differ by.

    Args:
        asked: the part with its readings as fixed [-].
        house: the firm's settings [-].

    Returns:
        The findings [-].
    """
    findings = [_two_people(asked)]
    if asked.fixed:
        findings.append(_fine_enough(asked, house))
    if len(asked.fixed) > 1:
        findings.append(_one_graduation(asked, house))
    return findings


def agreement(asked: MarkAsked, house: House) -> Finding:
    """Compare the survey's distance with the one as fixed: within their combined doubt.

    Source: JCGM 100:2008, 5.1.2; the factor is a house setting. Where the doubt is so wide that
    even a burned inch could hide in it, nothing is confirmed. Short of that this is the one place
    where more doubt can turn a hold into a release: two honest answers by vaguer tools differ by
    more, and a limit below their combined doubt would call them contradictory. What a vague tape
    may do to the part itself is asked by `mark.graduation` and `mark.cover`, which it only makes
    harder to pass.

    Args:
        asked: prediction and readings as fixed [-].
        house: the firm's settings [-].

    Returns:
        The finding [-].
    """
    question = Asked(
        "mark.agreement",
        "Does the distance as fixed agree with the survey?",
        asked.part,
        structure_source("gum1", "published", "5.1.2"),
        "",
    )
    if asked.predicted is None:
        do = "Work the cut out from the survey first: one answer alone is no check."
        return spoken_finding(question, None, "the survey's distance", "unknown", do)
    if not asked.fixed:
        do = "Read the distance between the fixed brackets."
        return spoken_finding(question, None, "a reading as fixed", "unknown", do)
    band = agreement_band_nm(asked, house)
    if band > WIDEST_BAND.value:
        do = "Read the width again with a better tool: the survey is too vague to confirm a cut."
        return spoken_finding(
            question,
            f"sure to {spoken(band, house.mark, up=True)} only",
            spoken(WIDEST_BAND.value, house.mark),
            "unknown",
            do,
        )
    apart = max(abs(r.value.nm - asked.predicted.distance_nm) for r in asked.fixed)
    remedy = Asked(
        question.rule,
        question.question,
        question.place,
        question.source,
        "Do not saw: read the survey's width and the brackets again." + _burned(apart, band),
    )
    return _exact(remedy, apart, house, most_nm=band)


def agreement_band_nm(asked: MarkAsked, house: House) -> int:
    """Return how far apart survey and site may be: the agreement factor times the combined doubt.

    Source: JCGM 100:2008, 5.1.2; the factor is a house setting.

    Args:
        asked: prediction and readings as fixed [-].
        house: the firm's settings [-].

    Returns:
        The band, rounded up to a hundredth of a millimetre [nm].
    """
    return band_nm(asked.predicted, fixed_doubt_mm(asked), house)


def band_nm(predicted: Predicted | None, fixed_mm: float, house: House) -> int:
    """Return the same from the doubt of the readings as fixed.

    Source: JCGM 100:2008, 5.1.2; the factor is a house setting.

    Args:
        predicted: the survey's distance with its doubt, if there is one [nm].
        fixed_mm: standard uncertainty of the distance as fixed [mm].
        house: the firm's settings [-].

    Returns:
        The band, rounded up to a hundredth of a millimetre [nm].
    """
    doubt = predicted.u_nm / NM_PER_MM if predicted else 0.0
    return guard_band_nm(combined(doubt, fixed_mm), float(house.agreement_factor))


def fixed_doubt_mm(asked: MarkAsked) -> float:
    """Return the standard uncertainty of the distance as fixed: that of its worst tool [mm]."""
    return max((reading_uncertainty(reading) for reading in asked.fixed), default=math.inf)


def length_checks(asked: MarkAsked, mark_nm: int, house: House) -> list[Finding]:
    """Check the mark against the stock, the sheet's limits and what the end covers hide.

    Source: the kit's own sheet.

    Args:
        asked: the part [-].
        mark_nm: the mark worked out [nm].
        house: the firm's settings [-].

    Returns:
        The findings [-].
    """
    source = structure_source("house", "kit sheet", asked.part)
    findings = [_stock(asked, mark_nm, source, house)]
    if asked.least_nm is not None or asked.most_nm is not None:
        limits = Asked(
            "mark.limits",
            f"Is the mark within what the {asked.part} may be cut to?",
            asked.part,
            source,
            "Do not saw: choose another size.",
        )
        findings.append(
            _exact(limits, mark_nm, house, least_nm=asked.least_nm, most_nm=asked.most_nm)
        )
    findings += _cover(asked, mark_nm, source, house)
    return findings + _sawn(asked, mark_nm, source, house)


def _two_people(asked: MarkAsked) -> Finding:
    people = {" ".join(reading.read_by.casefold().split()) for reading in asked.fixed}
    readings = {reading.id for reading in asked.fixed}
    question = Asked(
        "mark.second_person",
        "Did a second person read the distance as fixed?",
        asked.part,
        READERS.source,
        "",
    )
    enough = min(len(people), len(readings)) >= READERS.value
    do = (
        "Nothing to do."
        if enough
        else (
            "Read the distance between the fixed brackets"
            + (
                ": another person reads it, without being told the first reading."
                if people
                else "."
            )
        )
    )
    state: State = "fits" if enough else "unknown"
    readers = ", ".join(sorted(people)) or None
    return spoken_finding(question, readers, f"{READERS.value} people", state, do)


def _fine_enough(asked: MarkAsked, house: House) -> Finding:
    coarsest = max(reading.tool.graduation.nm for reading in asked.fixed)
    question = Asked(
        "mark.graduation",
        "Was the distance read finely enough for a saw mark?",
        asked.part,
        COARSEST_GRADUATION.source,
        "Read it again with a tape marked in sixteenths or millimetres.",
    )
    return _exact(question, coarsest, house, most_nm=COARSEST_GRADUATION.value)


def _one_graduation(asked: MarkAsked, house: House) -> Finding:
    values = [reading.value.nm for reading in asked.fixed]
    apart = max(values) - min(values)
    graduation = max(reading.tool.graduation.nm for reading in asked.fixed)
    question = Asked(
        "mark.readers",
        "Do all readings as fixed agree within one graduation?",
        asked.part,
        READERS.source,
        "Both read it again, each for themselves." + _burned(apart, graduation),
    )
    return _exact(question, apart, house, most_nm=graduation)


def _exact(
    question: Asked,
    value_nm: int,
    house: House,
    *,
    least_nm: int | None = None,
    most_nm: int | None = None,
) -> Finding:
    """Compare a plain length with its limits: on the limit is still within it."""
    value = Measured(value_nm, value_nm, 0.0)
    found = compared(question, value, house, least_nm=least_nm, most_nm=most_nm)
    if found.state == "fails":
        return found
    return advised(question, value_nm, house, least_nm=least_nm, most_nm=most_nm)


def _burned(apart_nm: int, within_nm: int) -> str:
    if abs(apart_nm - NM_PER_INCH) <= within_nm:
        return " They differ by about one inch: was a tape started at the 1?"
    return ""


def _stock(asked: MarkAsked, mark_nm: int, source: Source, house: House) -> Finding:
    """Compare the mark with the stock; a sliver thinner than the blade cannot be sawn off.

    One that is as thick as the blade comes off one end, even where the sheet takes it off both.
    """
    question = Asked(
        "mark.stock",
        f"Is the {asked.part} long enough to be sawn at the mark?",
        asked.part,
        source,
        f"Do not saw: the {asked.part} is too short; choose a larger size.",
    )
    sliver = asked.stock_nm - mark_nm
    if 0 < sliver < asked.kerf_nm:
        do = "File it down to the mark: what comes off is thinner than the blade."
        reading = spoken(sliver, house.mark, up=True)
        return spoken_finding(question, reading, "the blade or more", "tight", do)
    return _exact(question, mark_nm, house, most_nm=asked.stock_nm)


def _cover(asked: MarkAsked, mark_nm: int, source: Source, house: House) -> list[Finding]:
    """Compare how short the part may come out with what its end covers hide."""
    if asked.allowance_nm is None:
        return []
    longest = max(reading.value.nm for reading in asked.fixed) - asked.deduct_nm
    question = Asked(
        "mark.cover",
        f"Do the end covers of the {asked.part} hide how short it may come out?",
        asked.part,
        source,
        "Read it again with a better tool: it may come out shorter than the end covers hide.",
    )
    short = longest - mark_nm
    if short > asked.allowance_nm:
        return [_exact(question, short, house, most_nm=asked.allowance_nm)]
    doubt = guard_band_nm(fixed_doubt_mm(asked), float(house.guard_factor))
    return [advised(question, short + doubt, house, most_nm=asked.allowance_nm)]


def _sawn(asked: MarkAsked, mark_nm: int, source: Source, house: House) -> list[Finding]:
    """Compare the part as sawn with its mark: not longer, and no shorter than the covers hide."""
    if asked.sawn_nm is None:
        return []
    long = Asked(
        "mark.sawn_long",
        f"Is the {asked.part} as sawn no longer than its mark?",
        asked.part,
        source,
        "Saw or file it down to the mark before it is fitted.",
    )
    findings = [_exact(long, asked.sawn_nm, house, most_nm=mark_nm)]
    if asked.allowance_nm is None:
        return [*findings, _short_unhidden(asked, mark_nm - asked.sawn_nm, source, house)]
    wanted = max(reading.value.nm for reading in asked.fixed) - asked.deduct_nm
    short = Asked(
        "mark.sawn_short",
        f"Do the end covers hide how short the {asked.part} was sawn?",
        asked.part,
        source,
        "Do not fit it: it is short by more than the end covers hide. Order the part again.",
    )
    hidden = _exact(short, max(wanted - asked.sawn_nm, 0), house, most_nm=asked.allowance_nm)
    return [*findings, hidden]


def _short_unhidden(asked: MarkAsked, short_nm: int, source: Source, house: House) -> Finding:
    """Judge a part sawn short where the sheet does not say what its end covers hide.

    Within one graduation of the tape it is at its mark; from half an inch on nothing hides it; in
    between nobody knows.

    Source: house settings; one graduation as for two readers.
    """
    question = Asked(
        "mark.sawn_short",
        f"Is the {asked.part} as sawn at its mark?",
        asked.part,
        source,
        f"Do not fit it: no end cover hides so much. Order the {asked.part} again.",
    )
    graduation = max(reading.tool.graduation.nm for reading in asked.fixed)
    if graduation < short_nm < FAR_SHORT.value:
        do = (
            "Do not fit it yet: the sheet does not say what the end covers hide. Ask the kit's maker "
            f"whether they hide {spoken(short_nm, house.mark, up=True)}, or order the part again."
        )
        limit = spoken(graduation, house.mark)
        return spoken_finding(question, spoken(short_nm, house.mark, up=True), limit, "unknown", do)
    return _exact(question, max(short_nm, 0), house, most_nm=graduation)
