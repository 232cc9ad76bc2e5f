"""How much sealant does each run take?"""

from fitcheck.rules.finding import Measured
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.sheet import AT_THE_SILL, SealantRule, Sheet
from fitcheck.rules.survey import House
from fitcheck.rules.verdict import Bead

NM3_PER_TENTH_ML = 10**20


def fillet_volume_tenths_ml(length_nm: int, bead_nm: int) -> int:
    """Return the volume of a triangular fillet with two equal legs, rounded up.

    Source: arithmetic, half of leg times leg times length; 1 mL = 1000 mm3.

    Args:
        length_nm: length of the run [nm].
        bead_nm: leg of the fillet [nm].

    Returns:
        The volume, with no waste [0.1 mL].
    """
    return -(-length_nm * bead_nm * bead_nm // (2 * NM3_PER_TENTH_ML))


def beads(sheet: Sheet, readings: Readings, house: House) -> list[Bead]:
    """Return every run of sealant with its length and volume.

    Along a wall the run goes up to the rail, or to the top of the tallest panel; along the sill
    it is the width at the sill.

    Source: the kit's own sheet; inside beads only is common practice, no source.

    Args:
        sheet: the rule sheet [-].
        readings: the readings of the survey [-].
        house: the firm's settings [-].

    Returns:
        One row per run [-].
    """
    return [_bead(rule, sheet, readings, house) for rule in sheet.sealant]


def _bead(rule: SealantRule, sheet: Sheet, readings: Readings, house: House) -> Bead:
    length = _run(rule, sheet, readings)
    volume = None
    if length is not None:
        tenths = fillet_volume_tenths_ml(length.high_nm, rule.bead.nm)
        volume = f"{tenths // 10}.{tenths % 10} mL"
    return Bead(
        rule.run,
        length,
        rule.bead.entered,
        volume,
        rule.side,
        sheet.source(rule.page),
        house.mark,
    )


def _run(rule: SealantRule, sheet: Sheet, readings: Readings) -> Measured | None:
    if rule.along == "sill":
        width = readings.at("width", AT_THE_SILL)
        return None if isinstance(width, Absent) else width
    heights = [panel.height.nm for panel in sheet.panels]
    top = sheet.rail_height.nm if sheet.rail_height else max(heights, default=None)
    return None if top is None else Measured(top, top, 0.0)
