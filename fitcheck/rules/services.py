"""How far does a screw reach behind the wall's face, where pipes and cables may lie?"""

from fitcheck.rules import tables
from fitcheck.rules.length import inch_text, length_parse
from fitcheck.rules.sources import Source, source
from fitcheck.rules.survey import House
from fitcheck.rules.tables import Constant
from fitcheck.rules.tables_hazards import FLAT_STUD, PIPES_IMC, PIPES_UPC

KNOWS_OTHER_CODES = 5  # rules from which plumbing and mechanical codes, and flat studs, are told of


def services_source(house: House) -> Source:
    """Return who says how deep a screw may go: a code, or the firm where it settled a depth of its own.

    Source: NEC 300.4 and IRC P2603.2.1, 1 1/4 in; UPC 312.9, 1 in; IMC 305, 1 1/2 in.

    Args:
        house: the firm's settings [-].

    Returns:
        The source [-].
    """
    known: tuple[Constant[str], ...] = (tables.PROTECTED_ZONE,)
    if house.rules >= KNOWS_OTHER_CODES:
        known += (PIPES_UPC, PIPES_IMC)
    for rule in known:
        if house.safe_reach.nm == length_parse(rule.value).nm:
            return rule.source
    return source("house", "house setting", "safe_reach")


def tip_care(reach_nm: int, house: House) -> str:
    """Return what to do before a screw goes so far beyond the stud's face.

    Source: NEC 300.4(A)(1), (D), or the firm's own depth.

    Args:
        reach_nm: how far the tip goes beyond the stud's face [nm].
        house: the firm's settings [-].

    Returns:
        A sentence [-].
    """
    return (
        f"Locate pipes and cables first: the screw goes {inch_text(reach_nm, house.mark, 'up')} "
        f"beyond the stud's face, deeper than the {house.safe_reach} kept for them "
        f"({services_source(house).document}). A steel nail plate means stop."
    )


def tip_cautions(most_nm: int, house: House, *, sure: bool) -> tuple[str, ...]:
    """Return the caution for a screw whose tip leaves, or may leave, the depth kept for services.

    Source: NEC 300.4(A)(1), (D), or the firm's own depth.

    Args:
        most_nm: how far the tip goes at most beyond what lies in front of the structure [nm].
        house: the firm's settings [-].
        sure: whether all that lies in front of the structure is known [-].

    Returns:
        One sentence, or none where even the most stays within that depth [-].
    """
    if most_nm <= house.safe_reach.nm:
        return ()
    if sure:
        return (tip_care(most_nm, house),)
    return (
        "Locate pipes and cables first: how thick the wall is here is not known, and the screw may go "
        f"up to {inch_text(most_nm, house.mark, 'up')} beyond it, deeper than the {house.safe_reach} "
        f"kept for them ({services_source(house).document}).",
    )


def flat_stud_cautions(reach_nm: int, house: House) -> tuple[str, ...]:
    """Return the caution for a screw that goes deeper than a stud laid flat.

    Source: IRC R602.5: a partition may have 2x4 studs laid flat, 1 1/2 in deep.

    Args:
        reach_nm: how far the tip goes beyond the stud's face [nm].
        house: the firm's settings [-].

    Returns:
        One sentence, or none; none by rules before 5 [-].
    """
    depth = FLAT_STUD.value
    if house.rules < KNOWS_OTHER_CODES or reach_nm <= length_parse(depth).nm:
        return ()
    return (
        f"Find out how deep the stud is: in a partition it may lie flat, {depth} deep (IRC R602.5), and "
        "the tip would come out behind it.",
    )
