"""Is the opening wide enough and not too wide, at every height where the kit cares?"""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from fitcheck.rules.compare import Asked, compared, not_known
from fitcheck.rules.finding import Finding, Measured, Need
from fitcheck.rules.length import Length
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.sheet import Most, Sheet, Size, Window
from fitcheck.rules.survey import House
from fitcheck.rules.uncertainty import combined


def size_chosen(sheet: Sheet, readings: Readings) -> Size | None:
    """Choose the size whose windows hold every known width with the largest least margin.

    When no size holds them all, the nearest is returned, so that it fails by name. When no
    width is known there is no choice.

    Args:
        sheet: the rule sheet [-].
        readings: the readings of the survey [-].

    Returns:
        The size, or None when nothing is known to choose by [-].
    """
    margins = [(_least_margin(size, readings), size) for size in sheet.sizes]
    known = [(margin, size) for margin, size in margins if margin is not None]
    return max(known, key=lambda pair: pair[0])[1] if known else None


def _least_margin(size: Size, readings: Readings) -> int | None:
    margins = []
    for window in size.windows:
        width = readings.at("width", window.height)
        if isinstance(width, Measured):
            margins.append(min(width.low_nm - window.least.nm, window.most.nm - width.high_nm))
    return min(margins) if margins else None


def width_windows(
    sheet: Sheet, size: Size | None, readings: Readings, house: House
) -> list[Finding]:
    """Compare the width at each height that the sheet names with the window of the size.

    Source: the kit's own sheet.

    Args:
        sheet: the rule sheet [-].
        size: the size; without one every window height is asked for and none is passed [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One finding per height [-].
    """
    if size is not None:
        return [
            compared(
                _within(sheet, size, window),
                readings.at("width", window.height),
                house,
                least_nm=window.least.nm,
                most_nm=window.most.nm,
            )
            for window in size.windows
        ]
    by_height = {w.height.nm: (s, w) for s in sheet.sizes for w in s.windows}
    findings = []
    for own, window in by_height.values():
        question = f"Is the width at {window.height} within the window of a size?"
        asked = _asked(sheet, own, window, question)
        width = readings.at("width", window.height)
        if isinstance(width, Absent):
            findings.append(not_known(asked, width, house))
    return findings


@lru_cache(maxsize=256)
def _within(sheet: Sheet, size: Size, window: Window) -> Asked:
    question = (
        f"Is the width at {window.height} between {window.least} and {window.most} "
        f"(size {size.code})?"
    )
    return _asked(sheet, size, window, question)


def _asked(sheet: Sheet, size: Size, window: Window, question: str) -> Asked:
    place = f"{window.height} above the sill"
    remedy = f"Do not order size {size.code}: choose another size or kit, or correct the wall."
    return Asked("width.window", question, place, sheet.source(size.page), remedy)


def width_difference(
    sheet: Sheet, size: Size | None, readings: Readings, house: House
) -> list[Finding]:
    """Compare the largest difference between any two widths with what the sheet allows.

    A difference already too large fails, even while other heights are still to be read.

    Source: the kit's own sheet. Common practice, no source: many bypass sliders want less
    than 3/8 in.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One finding, or none when the sheet has no such rule [-].
    """
    limit = sheet.width_difference
    if limit is None:
        return []
    asked = _alike(sheet, limit)
    difference, absent = widths_differ(sheet.heights(size), readings)
    finding = None
    if difference:
        finding = compared(asked, difference, house, most_nm=limit.most.nm)
    if finding and (finding.state == "fails" or not absent):
        return [finding]
    return [not_known(asked, _all_absent(absent), house, most_nm=limit.most.nm)]


@lru_cache(maxsize=256)
def _alike(sheet: Sheet, limit: Most) -> Asked:
    return Asked(
        "width.difference",
        f"Do the widths differ by {limit.most} or less?",
        "sill to rail",
        sheet.source(limit.page),
        "Do not hang this door as the opening stands: pack or correct the walls, or choose a kit "
        "that takes more.",
    )


def widths_differ(
    heights: Sequence[Length], readings: Readings
) -> tuple[Measured | None, list[Absent]]:
    """Return the largest difference between any two of the widths read at some heights.

    Args:
        heights: the heights; with fewer than two, those where a width was read besides [nm].
        readings: the readings of the survey [-].

    Returns:
        The difference, None when no two readings give it, and what is still to be read [nm].
    """
    widths = [readings.at("width", height) for height in _heights(heights, readings)]
    known = [width for width in widths if isinstance(width, Measured)]
    apart = len({width.readings for width in known}) > 1
    absent = [width for width in widths if isinstance(width, Absent)]
    return _difference(known) if apart else None, absent


def _heights(heights: Sequence[Length], readings: Readings) -> list[Length]:
    named = list(heights)
    if len(named) < 2:
        named += [Length(group.height_nm, "") for group in readings.groups("width")]
    return named


def _difference(widths: list[Measured]) -> Measured:
    narrow = min(widths, key=lambda width: width.low_nm)
    wide = max(widths, key=lambda width: width.high_nm)
    low = max(0, wide.low_nm - narrow.high_nm)
    ids = dict.fromkeys(narrow.readings + wide.readings)
    return Measured(low, wide.high_nm - narrow.low_nm, combined(narrow.u_mm, wide.u_mm), tuple(ids))


def _all_absent(absent: Iterable[Absent]) -> Absent:
    every = list(absent) or [Absent((Need("width"),))]
    disputed = [one for one in every if one.apart_nm is not None]
    needs = dict.fromkeys(need for one in disputed or every for need in one.needs)
    ids = dict.fromkeys(i for one in every for i in one.readings)
    apart = max((one.apart_nm for one in disputed if one.apart_nm is not None), default=None)
    return Absent(tuple(needs), tuple(ids), apart)
