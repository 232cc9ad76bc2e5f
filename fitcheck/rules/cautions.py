"""What must be said wherever this work can hurt someone?"""

from functools import lru_cache

from fitcheck.rules import tables
from fitcheck.rules.drilling import DUSTY, TILE
from fitcheck.rules.survey import House, Survey
from fitcheck.rules.tables_hazards import (
    EYE_MARK,
    GLOVE_CUT_GRAMS,
    GLOVE_LEAST_GRAMS,
    LEAD_MINOR_REPAIR,
    SILICA_INDOORS,
    TILE_BACKERS,
)
from fitcheck.rules.verdict import Caution

FULLER = 5  # rules from which gloves, eyewear, air indoors, painted area and backers are told

ALWAYS = (
    Caution(
        "protection",
        "every visit",
        "Wear eye protection with side shields, cut-resistant grip gloves and closed shoes.",
    ),
    Caution(
        "services",
        "before drilling",
        "Locate pipes and cables before any hole; a steel nail plate means stop.",
    ),
    Caution(
        "two_people",
        "lifting",
        "Two people or more for every panel, and nobody in its fall path.",
    ),
    Caution(
        "rests",
        "setting down",
        "Never stand glass on a hard floor nor on its corners: use card or foam, guards on.",
    ),
    Caution(
        "tempered",
        "all glass",
        "Tempered glass can break without warning if its edge or a hole is hit.",
    ),
    Caution(
        "no_cutting",
        "all glass",
        "Never cut, drill or edge tempered glass: a wrong panel is a new panel.",
    ),
)
CLOSING = Caution(
    "outranked",
    "everything here",
    "These figures are aids. The kit's own sheet, the local code and its officials, and licensed "
    "plumbers, electricians and engineers outrank them.",
)
BOARDS = frozenset({"cement_board"})
_MAYBE_DUSTY = DUSTY | {"unknown"}


def lead_suspected(year_built: int) -> bool:
    """Return whether paint and old tile must be treated as holding lead.

    Source: 40 CFR 745, subpart E: housing built before 1978.

    Args:
        year_built: the year [-].

    Returns:
        True up to 1977 [-].
    """
    return year_built < tables.LEAD_BEFORE_YEAR.value


def asbestos_presumed(year_built: int) -> bool:
    """Return whether thermal insulation, surfacing and old flooring are presumed to be asbestos.

    Source: 29 CFR 1926.1101(b): buildings built no later than 1980.

    Args:
        year_built: the year [-].

    Returns:
        True up to 1980 [-].
    """
    return year_built <= tables.ASBESTOS_UP_TO_YEAR.value


def glove_level() -> str:
    """Return the least cut level of gloves for glass.

    Source: ANSI/ISEA 105-2016, cut levels by the grams on the blade; the grams are a house setting.

    Returns:
        A level such as "A4" [-].
    """
    levels = GLOVE_CUT_GRAMS.value
    return next(level for level, grams in levels.items() if grams >= GLOVE_LEAST_GRAMS.value)


LIFTING_STRETCHED = (
    "a team of n may lift n times 25 kg times 0.85 (ISO 11228-1, from memory)"  # up to version 4
)
LIFTING = {
    "iso_11228_1": "two may lift two times 25 kg times 0.85, and more people add nothing to it "
    "(ISO 11228-1, from memory)",
    "hse_l23": "two may lift two thirds, three half of n times 25 kg (HSE L23 paragraph 120)",
}


def cautions(survey: Survey, house: House) -> tuple[Caution, ...]:
    """Return every caution for this opening, the one that outranks us last.

    Source: common practice; 29 CFR 1926.102 (eyes), 1926.1153 (silica), 1926.1101 (asbestos);
    40 CFR 745 (lead); ANSI/ISEA 105 (gloves); IRC R702.4.2 (tile backers).

    Args:
        survey: the survey, for its zones and the age of the house [-].
        house: the firm's settings, for its lifting convention [-].

    Returns:
        The cautions [-].
    """
    fuller = house.rules >= FULLER
    protection, *others = ALWAYS
    return (
        _protection() if fuller else protection,
        *others,
        _lifting(house),
        *_dust(survey, fuller=fuller),
        *(_backers(survey) if fuller else ()),
        *_old_house(survey.opening.year_built, fuller=fuller),
        CLOSING,
    )


@lru_cache(maxsize=1)
def _protection() -> Caution:
    text = (
        f"Wear eye protection with side shields marked {EYE_MARK.value}, grip gloves of cut level "
        f"{glove_level()} or higher (ANSI/ISEA 105) and closed shoes."
    )
    return Caution("protection", "every visit", text)


def _backers(survey: Survey) -> tuple[Caution, ...]:
    """Warn of tile on plain gypsum board, which is soft once it is wet."""
    if not any(one.finish in TILE and one.backing == "gypsum_board" for one in survey.zones):
        return ()
    allowed = ", ".join(f"{name} ({norm})" for name, norm in TILE_BACKERS.value.items())
    text = (
        "Gypsum board, green or not, is no backer for tile in a shower since the code of 2006 (IRC "
        f"R702.4.2). These are, by ASTM: {allowed}. Probe for soft places, and have a tiler look "
        "before anything hangs there."
    )
    return (Caution("backer", "tile on gypsum board", text),)


@lru_cache(maxsize=256)
def _lifting(house: House) -> Caution:
    reckoned = LIFTING[house.lift_convention]
    if house.rules < 5 and house.lift_convention == "iso_11228_1":
        reckoned = LIFTING_STRETCHED
    text = (
        f"Hands are reckoned so: {reckoned}. That is a lift on level ground "
        "only; carrying, stairs and slippery floors need more people or an aid."
    )
    return Caution("lift_only", "lifting", text)


def _dust(survey: Survey, *, fuller: bool) -> list[Caution]:
    dusty = not survey.zones or any(
        zone.finish in _MAYBE_DUSTY or zone.backing in BOARDS for zone in survey.zones
    )
    text = f"{tables.SILICA_DRILL_ROW.value} (29 CFR 1926.1153 table 1 (vii))"
    if fuller:
        text += f" {SILICA_INDOORS.value}"
    return [Caution("dust", "drilling tile, stone, board or masonry", text)] if dusty else []


def _old_house(year_built: int | None, *, fuller: bool) -> list[Caution]:
    found = []
    if year_built is None:
        text = (
            "The year of the house is not known: before 1978 expect lead, up to 1980 asbestos, "
            "until someone has looked."
        )
        return [Caution("age", "before anything is disturbed", text)]
    if lead_suspected(year_built):
        text = f"Built in {year_built}, before 1978: treat paint and old tile dust as lead dust."
        if fuller:
            text += f" {_renovator()}"
        found.append(Caution("lead", "before anything is disturbed", text))
    if asbestos_presumed(year_built):
        text = (
            f"Built in {year_built}, no later than 1980: insulation, surfacing and old flooring "
            "are presumed to hold asbestos; board, compound and mastic are suspect. Do not "
            "disturb them before a test."
        )
        found.append(Caution("asbestos", "before anything is disturbed", text))
    return found


def _renovator() -> str:
    area = LEAD_MINOR_REPAIR.value
    return (
        f"More than {area['room']} ft2 of paint disturbed in a room, or {area['outside']} ft2 outside, "
        "and any demolition of a painted surface, is a certified renovator's work (40 CFR 745.83)."
    )
