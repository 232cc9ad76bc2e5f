"""How far may a screw miss the middle of a stud and still be far enough from its edge?"""

from functools import lru_cache

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import (
    EDGE_DIAMETERS,
    EDGE_DIAMETERS_LAG,
    EDGE_DIAMETERS_LAG_ACROSS,
    LAG_SCREWS,
    STUD_FACE,
)
from fitcheck.rules.wood_screw import nominal_nm


def edge_distance_nm(size: str, *, across: bool = False) -> int:
    """Return how far from the edge of a stud a screw stands at least.

    Source: NDS 2018, commentary table C12.1.5.7: 2.5 D; lags along the grain 1.5 D, and 4 D from the
    edge that a load across the grain pulls towards (from memory).

    Args:
        size: "#10", or a lag such as "5/16 in" [-].
        across: whether it is pulled across the grain too, as by an open door [-].

    Returns:
        The distance [nm].
    """
    lag = size in LAG_SCREWS.value
    along = EDGE_DIAMETERS_LAG_ACROSS.value if across else EDGE_DIAMETERS_LAG.value
    times = along if lag else EDGE_DIAMETERS.value["edge"]
    return -(-round(2 * times) * nominal_nm(size) // 2)


@lru_cache(maxsize=256)
def locating_tolerance_nm(
    size: str, face_nm: int = STUD_FACE.value, *, across: bool = False
) -> int:
    """Return how far from the middle of the stud's face a screw may go in.

    Source: half the face less the edge distance (NDS commentary, from memory).

    Args:
        size: "#10", or a lag such as "5/16 in" [-].
        face_nm: width of the face that the screw goes into [nm].
        across: whether it is pulled across the grain too [-].

    Returns:
        The tolerance either way; negative when the face is too narrow at all [nm].
    """
    return face_nm // 2 - edge_distance_nm(size, across=across)


def stud_hit(
    place: str,
    size: str,
    off_centre: Measured,
    house: House,
    face_nm: int = STUD_FACE.value,
    *,
    across: bool = False,
) -> Finding:
    """Compare how far a hole is off the stud's middle with what the screw allows.

    Source: NDS 2018, commentary table C12.1.5.7 (from memory), with the doubt of finding the stud.

    Args:
        place: the fixing [-].
        size: "#10", or a lag such as "5/16 in" [-].
        off_centre: distance of the hole from the stud's middle, without sign [nm].
        house: the firm's settings [-].
        face_nm: width of the face that the screw goes into [nm].
        across: whether it is pulled across the grain too [-].

    Returns:
        The finding [-].
    """
    most_nm = locating_tolerance_nm(size, face_nm, across=across)
    return compared(_asked(place, size), off_centre, house, most_nm=most_nm)


@lru_cache(maxsize=1024)
def _asked(place: str, size: str) -> Asked:
    return Asked(
        "fixing.stud_hit",
        f"Does the {size} screw go in near enough to the middle of the stud?",
        place,
        EDGE_DIAMETERS.source,
        "Move the hole, or fit blocking: the screw would split the edge of the stud or miss it.",
    )
