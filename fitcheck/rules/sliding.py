"""Do sliding panels overlap when shut, clear each other when they pass, and let people in?"""

from dataclasses import dataclass

from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.pane_edition import Edition, thickest_nm
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import House
from fitcheck.rules.tables_pane import ACCESS_WIDTH, LEAST_FACE_GAP, LEAST_OVERLAP

SLIDING = ("widths", "height", "opening_width", "uncertainty", "tracks_apart", "overlap_least")
_WORLD = "sliding panels"


@dataclass(frozen=True, slots=True)
class Sliding:
    """Two panels that pass each other, or one that passes a fixed one."""

    widths_nm: tuple[int, int]
    height_nm: int
    opening_nm: int
    u_nm: int
    tracks_apart_nm: int
    overlap_least_nm: int


def sliding_read(own: Strict) -> Sliding:
    """Read two sliding panels; mistakes are noted on `own`.

    Args:
        own: the opened object [-].

    Returns:
        The panels [-].
    """
    widths = []
    for index, value in enumerate(own.items("widths", least=2, most=2)):
        one = Strict({"it": value}, f"{own.pointer}/widths/{index}", own.errors)
        widths.append(one.length("it").nm)
    least = own.length_or_none("overlap_least", zero=True)
    return Sliding(
        (widths[0], widths[1]) if len(widths) == 2 else (0, 0),
        own.length("height").nm,
        own.length("opening_width").nm,
        own.length("uncertainty", zero=True).nm,
        own.length("tracks_apart").nm,
        least.nm if least else LEAST_OVERLAP.value,
    )


def overlap_nm(sliding: Sliding) -> int:
    """Return how far two shut panels overlap: what they are wider together than the opening [nm]."""
    return sum(sliding.widths_nm) - sliding.opening_nm


def face_gap_nm(sliding: Sliding, edition: Edition) -> int | None:
    """Return what is left between two passing faces, both bowed towards each other.

    Source: the edition's bow and thickness; None where no bow is known for the thickness.

    Args:
        sliding: the panels [-].
        edition: the edition that rules over them [-].

    Returns:
        The gap; negative when they would touch [nm].
    """
    bow = edition.bow_nm(max(sliding.height_nm, *sliding.widths_nm))
    if bow is None:
        return None
    return sliding.tracks_apart_nm - thickest_nm(edition) - 2 * bow


def entry_nm(sliding: Sliding) -> int:
    """Return the clear way in when one panel stands behind the other [nm]."""
    return sliding.opening_nm - max(sliding.widths_nm)


def sliding_findings(
    sliding: Sliding, edition: Edition, house: House, narrowest: Sliding | None = None
) -> list[Finding]:
    """Check overlap, clearance and the way in.

    Source: overlap and face gap by house setting or the kit's sheet; IRC P2708.1.1 for the way in.

    Args:
        sliding: the panels [-].
        edition: the edition that rules over them [-].
        house: the firm's settings [-].
        narrowest: the same where the opening is narrowest, for the way in [-].

    Returns:
        The findings [-].
    """
    entered = narrowest or sliding
    u_mm, way = entered.u_nm / NM_PER_MM, entry_nm(entered)
    access = Asked(
        "sliding.entry",
        "Is the way in wide enough with one panel behind the other?",
        _WORLD,
        ACCESS_WIDTH.source,
        "Ask the local official, or choose another enclosure.",
    )
    return [
        _overlap(sliding, edition, house),
        _faces(sliding, edition, house),
        compared(access, Measured(way, way, u_mm), house, least_nm=ACCESS_WIDTH.value),
    ]


def _overlap(sliding: Sliding, edition: Edition, house: House) -> Finding:
    asked = Asked(
        "sliding.overlap",
        "Do the panels overlap enough when shut, even if both come small?",
        _WORLD,
        LEAST_OVERLAP.source,
        "Order wider panels: water comes through.",
    )
    tolerances = [edition.size_nm(max(width, sliding.height_nm)) for width in sliding.widths_nm]
    known = [each for each in tolerances if each is not None]
    if len(known) < len(tolerances):
        do = "Ask the temperer how far a panel of this thickness may be off its size."
        return spoken_finding(asked, None, "a tolerance", "unknown", do)
    left = overlap_nm(sliding) - sum(known)
    value = Measured(left, left, sliding.u_nm / NM_PER_MM)
    return compared(asked, value, house, least_nm=sliding.overlap_least_nm)


def _faces(sliding: Sliding, edition: Edition, house: House) -> Finding:
    asked = Asked(
        "sliding.faces",
        "Do the faces clear each other when both panels are bowed?",
        _WORLD,
        LEAST_FACE_GAP.source,
        "Set the tracks further apart: glass would rub on glass.",
    )
    gap = face_gap_nm(sliding, edition)
    if gap is None:
        do = "Ask the temperer how far a panel of this thickness may be bowed."
        return spoken_finding(asked, None, "a bow", "unknown", do)
    return compared(asked, Measured(gap, gap, 0.0), house, least_nm=LEAST_FACE_GAP.value)
