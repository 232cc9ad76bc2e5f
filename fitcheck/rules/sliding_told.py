"""Do the sheet's panels overlap, clear each other and let people in at the widths that were read?"""

from fitcheck.rules.finding import Finding
from fitcheck.rules.pane_edition import edition_of
from fitcheck.rules.panels import panel_rules
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import PanelRule, Sheet, Size
from fitcheck.rules.sheet_more import SlidingRule
from fitcheck.rules.sliding import Sliding, sliding_findings
from fitcheck.rules.survey import House
from fitcheck.rules.tables_pane import LEAST_OVERLAP

MICROMETRE_NM = 1000


def sliding_told(
    sheet: Sheet, size: Size | None, readings: Readings, house: House
) -> list[Finding]:
    """Compare overlap and clearance of two sliding panels with the widest width read, and the way in
    with the narrowest; before version 5 of the rules the way in too was taken at the widest.

    Source: `sliding_findings`.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        readings: the readings [-].
        house: the firm's settings [-].

    Returns:
        The findings; none when the sheet names no tracks, or two panels or a width are not known [-].
    """
    pair, widest, narrow = panel_rules(sheet, size), readings.widest(), readings.narrowest()
    if sheet.sliding is None or sheet.glazing is None or len(pair) != 2:
        return []
    if widest is None or narrow is None:
        return []
    edition = edition_of(sheet.glazing.edition, max(one.thickness.nm for one in pair), house.rules)
    sliding = _sliding(sheet.sliding, pair, widest.high_nm, widest.u_mm)
    at_least = _sliding(sheet.sliding, pair, narrow.low_nm, narrow.u_mm)
    return sliding_findings(sliding, edition, house, at_least if house.rules >= 5 else sliding)


def _sliding(rule: SlidingRule, pair: list[PanelRule], opening_nm: int, u_mm: float) -> Sliding:
    return Sliding(
        (pair[0].width.nm, pair[1].width.nm),
        max(one.height.nm for one in pair),
        opening_nm,
        round(u_mm * 1_000_000 / MICROMETRE_NM) * MICROMETRE_NM,
        rule.tracks_apart.nm,
        rule.overlap_least.nm if rule.overlap_least else LEAST_OVERLAP.value,
    )
