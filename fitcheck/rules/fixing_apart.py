"""Do a bracket's screws stand far enough apart in wood, and what is left out where nobody says it?"""

from functools import lru_cache

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.demand import HINGE_TWIST
from fitcheck.rules.finding import Finding, Measured, exactly
from fitcheck.rules.fixing_seat import Seat
from fitcheck.rules.framing import WOOD
from fitcheck.rules.length import inch_text
from fitcheck.rules.locating import edge_distance_nm
from fitcheck.rules.screws import screw_number
from fitcheck.rules.substrates import Spot
from fitcheck.rules.survey import House
from fitcheck.rules.tables import SCREW_ROOT
from fitcheck.rules.tables_fixings import EDGE_DIAMETERS
from fitcheck.rules.wood_screw import nominal_nm


def wood_spacing_nm(size: str) -> int:
    """Return how near two screws in wood may ever stand, whichever way they lie to the grain.

    Source: NDS 2018, commentary table C12.1.5.7: rows 3 D apart with lead holes (from memory); along the
    grain it asks more.

    Args:
        size: "#10", or a lag such as "5/16 in" [-].

    Returns:
        The distance [nm].
    """
    return int(EDGE_DIAMETERS.value["rows_lead_hole"]) * nominal_nm(size)


def apart_in_wood(seat: Seat, size: str, house: House) -> tuple[Finding, ...]:
    """Compare the bracket's holes with the least spacing in wood, where the sheet tells them.

    Source: NDS 2018, commentary table C12.1.5.7 (from memory).

    Args:
        seat: the bracket on its wall [-].
        size: the screw's size, of a known diameter [-].
        house: the firm's settings [-].

    Returns:
        One finding; none where the sheet does not tell, or one screw stands alone [-].
    """
    spacing = seat.bracket.spacing
    if spacing is None or seat.rule.count < 2:
        return ()
    asked = Asked(
        "fixing.spacing",
        "Are the bracket's screws far enough apart in the wood?",
        seat.where,
        EDGE_DIAMETERS.source,
        "Ask the kit's maker for thinner screws or a wider bracket: the wood would split.",
    )
    return (compared(asked, exactly(spacing.nm), house, least_nm=wood_spacing_nm(size)),)


def outer_screw(seat: Seat, off: Measured) -> Measured:
    """Return how far the outer screw of the upper row is off the middle of the stud, at least.

    Source: arithmetic; the upper row lies level, its holes as far apart as the sheet says at least.

    Args:
        seat: the bracket on its wall [-].
        off: how far the middle of the screws is off it, without sign [nm].

    Returns:
        The distance; that of the middle where one screw or no spacing is told [nm].
    """
    spacing = seat.bracket.spacing
    if spacing is None:
        return off
    half_nm = (seat.bracket.top_row - 1) * spacing.nm // 2
    return Measured(off.low_nm + half_nm, off.high_nm + half_nm, off.u_mm, off.readings)


def not_apart(spot: Spot, size: str | None, house: House) -> tuple[str, ...]:
    """Return what to mind in a wood stud where the sheet does not say how far apart its screws stand.

    Source: NDS 2018, commentary table C12.1.5.7 (from memory).

    Args:
        spot: the place with its zone [-].
        size: the screw's size, None while no screw is known [-].
        house: the firm's settings [-].

    Returns:
        One sentence, or none [-].
    """
    rule, zone = spot.fixing, spot.zone
    if zone is None or zone.structure not in WOOD or rule.bracket is None or size is None:
        return ()
    told = rule.bracket.spacing is not None or rule.count < 2
    if told or screw_number(size) not in SCREW_ROOT.value:
        return ()
    return (_apart_text(size, house.mark),)


@lru_cache(maxsize=64)
def _apart_text(size: str, mark: int) -> str:
    least = inch_text(wood_spacing_nm(size), mark, "up")
    edge = inch_text(edge_distance_nm(size), mark, "up")
    return (
        f"The sheet does not say how far apart the screws stand: in wood at least {least} from each other "
        f"and {edge} from the edge of the stud (NDS commentary, from memory)."
    )


def not_turned(spot: Spot) -> tuple[str, ...]:
    """Return that the turn of a hinge leaf about its upright edge is left out, where it is.

    Source: equilibrium needs the width of the screws, which the sheet does not say.

    Args:
        spot: the place [-].

    Returns:
        One sentence, or none [-].
    """
    bracket = spot.fixing.bracket
    left_out = bracket is not None and bracket.hinge is not None and bracket.screw_width is None
    return (HINGE_TWIST,) if left_out else ()
