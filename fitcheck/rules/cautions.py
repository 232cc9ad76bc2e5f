"""What must be said wherever this work can hurt someone?"""

from functools import lru_cache

from fitcheck.rules import tables
from fitcheck.rules.drilling import DUSTY
from fitcheck.rules.survey import House, Survey
from fitcheck.rules.verdict import Caution

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


LIFTING = {
    "iso_11228_1": "a team of n may lift n times 25 kg times 0.85 (ISO 11228-1, from memory)",
    "hse_l23": "two may lift two thirds, three half of n times 25 kg (HSE L23 paragraph 120)",
}


def cautions(survey: Survey, house: House) -> tuple[Caution, ...]:
    """Return every caution for this opening, the one that outranks us last.

    Source: common practice; 29 CFR 1926.102 (eyes), 1926.1153 (silica), 1926.1101 (asbestos);
    40 CFR 745 (lead).

    Args:
        survey: the survey, for its zones and the age of the house [-].
        house: the firm's settings, for its lifting convention [-].

    Returns:
        The cautions [-].
    """
    return (
        *ALWAYS,
        _lifting(house),
        *_dust(survey),
        *_old_house(survey.opening.year_built),
        CLOSING,
    )


@lru_cache(maxsize=256)
def _lifting(house: House) -> Caution:
    text = (
        f"Hands are reckoned so: {LIFTING[house.lift_convention]}. That is a lift on level ground "
        "only; carrying, stairs and slippery floors need more people or an aid."
    )
    return Caution("lift_only", "lifting", text)


def _dust(survey: Survey) -> list[Caution]:
    dusty = not survey.zones or any(
        zone.finish in _MAYBE_DUSTY or zone.backing in BOARDS for zone in survey.zones
    )
    text = f"{tables.SILICA_DRILL_ROW.value} (29 CFR 1926.1153 table 1 (vii))"
    return [Caution("dust", "drilling tile, stone, board or masonry", text)] if dusty else []


def _old_house(year_built: int | None) -> list[Caution]:
    found = []
    if year_built is None:
        text = (
            "The year of the house is not known: before 1978 expect lead, up to 1980 asbestos, "
            "until someone has looked."
        )
        return [Caution("age", "before anything is disturbed", text)]
    if lead_suspected(year_built):
        text = f"Built in {year_built}, before 1978: treat paint and old tile dust as lead dust."
        found.append(Caution("lead", "before anything is disturbed", text))
    if asbestos_presumed(year_built):
        text = (
            f"Built in {year_built}, no later than 1980: insulation, surfacing and old flooring "
            "are presumed to hold asbestos; board, compound and mastic are suspect. Do not "
            "disturb them before a test."
        )
        found.append(Caution("asbestos", "before anything is disturbed", text))
    return found
