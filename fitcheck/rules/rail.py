"""Is the head rail stiff and strong enough, with the panels anywhere along it?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.compare import Asked, advised, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import Share, force_json, share_text, spoken_finding, weight_lbf
from fitcheck.rules.length import NM_PER_INCH, computed, mm_text
from fitcheck.rules.quantity import kg_text
from fitcheck.rules.rail_beam import Section, section_bar, section_round, section_tube
from fitcheck.rules.rail_worst import RailWorst, Train, rail_worst
from fitcheck.rules.strict import InputError, Strict
from fitcheck.rules.structure_inputs import answered, mass_of
from fitcheck.rules.survey import House, house_read
from fitcheck.rules.tables_fixings import (
    ALUMINIUM_DENSITY,
    ALUMINIUM_E,
    ALUMINIUM_SAFETY,
    ALUMINIUM_YIELD,
    ALUMINIUM_YIELD_THICK,
    RAIL_CLEAR_LEFT,
    RAIL_SAG_SPAN,
    SLAM_FACTOR,
)

RAIL = ("span", "shape", "width", "height", "wall", "alloy", "rail_mass", "panels", "clear_below")
_PANEL = ("mass", "roller_spacing", "first_from", "first_to")
_MICRO_NM = 1000
KNOWS_THICK_RAILS = 5  # rules from which a rail thicker than 1/2 in has less strength


@dataclass(frozen=True, slots=True)
class Rail:
    """A head rail and the panels that slide on it."""

    span_nm: int
    section: Section
    alloy: str
    weight_lbf: float
    trains: tuple[Train, ...]
    masses_ug: tuple[int, ...]
    clear_below_nm: int | None

    def worst(self, slam: float = 1.0) -> RailWorst:
        """Return the worst that the panels do, their weight times the slam factor."""
        trains = tuple(
            Train(train.weight * slam, train.spacing, train.travel_from, train.travel_to)
            for train in self.trains
        )
        stiffness = ALUMINIUM_E.value * self.section.inertia
        return rail_worst(self.span_nm / NM_PER_INCH, stiffness, trains, self.weight_lbf)


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer whether a head rail holds its panels, wherever they stand.

    Source: superposition of simple beams; wall brackets are taken as pins.

    Args:
        inputs: the rail with its panels, and the firm's settings [-].

    Returns:
        Reaction, moment, sag and the findings, as plain JSON [-].

    Raises:
        InputErrors: what was sent makes no sense; every mistake is named.
    """
    own = Strict.open(inputs, (*RAIL, "slam_factor", "house"), "", [])
    house = house_read(own)
    slam = slam_read(own)
    rail = rail_read(own)
    own.finish()
    if rail is None:
        raise AssertionError("a rail without a mistake was read")
    by = "as given" if own.has("rail_mass") else f"{ALUMINIUM_DENSITY.value} lb/in3 by its section"
    still, slammed = rail.worst(), rail.worst(slam)
    findings = rail_findings(rail, still, slammed, house)
    sag_nm = sag_up_nm(still.sag.value)
    return answered(
        findings,
        (_UNKNOWN_SLAM.format(slam=slam),),
        reaction=force_json(slammed.reaction, "up"),
        moment=f"{-(-slammed.moment.value // 1):.0f} lbf in",
        sag=computed(sag_nm, "up", house.mark),
        sag_at=mm_text(round(still.sag.at * NM_PER_INCH / _MICRO_NM) * _MICRO_NM),
        rollers_at=[
            mm_text(round(at * NM_PER_INCH / _MICRO_NM) * _MICRO_NM) for at in still.sag_positions
        ],
        panels=[kg_text(mass) for mass in rail.masses_ug],
        settings={
            "slam_factor": f"{slam:g}",
            "sag_over_span": f"1/{RAIL_SAG_SPAN.value}",
            "rail_weight": f"{rail.weight_lbf:.1f} lbf, {by}",
        },
    )


_UNKNOWN_SLAM = (
    "No published figure was found for slamming: the moving weight is taken {slam:g} times, which "
    "is the firm's own setting."
)


def slam_read(own: Strict) -> float:
    """Read the factor on the moving weight.

    Args:
        own: the opened question [-].

    Returns:
        The factor [-].
    """
    return float(own.number("slam_factor", "1", "10", SLAM_FACTOR.value))


def rail_read(own: Strict) -> Rail | None:
    """Read a rail with its panels; mistakes are noted on `own`.

    Args:
        own: the opened object with the members of `RAIL` [-].

    Returns:
        The rail, or None when a mistake was noted [-].
    """
    before = len(own.errors)
    span = own.length("span")
    alloy = own.choice("alloy", tuple(ALUMINIUM_YIELD.value), "6063-T5")
    section = section_read(own)
    weight = weight_lbf(mass_of(own, "rail_mass")) if own.has("rail_mass") else None
    clear = own.length_or_none("clear_below", zero=True)
    panels = tuple(
        _panel(each, span.nm) for each in own.children("panels", _PANEL, least=1, most=8)
    )
    if len(own.errors) > before or section is None:
        return None
    trains = tuple(train for train, _ in panels)
    masses = tuple(mass for _, mass in panels)
    weight = own_weight_lbf(section, span.nm) if weight is None else weight
    return Rail(span.nm, section, alloy, weight, trains, masses, clear.nm if clear else None)


def own_weight_lbf(section: Section, span_nm: int) -> float:
    """Return the weight of a rail between its ends, by its section.

    Source: aluminium 6063, 0.0975 lb/in3, an alloy table.

    Args:
        section: the section [in].
        span_nm: between the supports [nm].

    Returns:
        The weight [lbf].
    """
    weight: float = section.area * span_nm / NM_PER_INCH * ALUMINIUM_DENSITY.value
    return weight


def rail_yield_psi(alloy: str, section: Section) -> int:
    """Return the least yield strength of a rail; a thick one has less.

    Source: aluminium 6063, minimum of an alloy table; T6 thicker than 1/2 in was not read and is
    taken as T5.

    Args:
        alloy: "6063-T5" or "6063-T6" [-].
        section: the section [in].

    Returns:
        The yield strength [psi].
    """
    least: int = ALUMINIUM_YIELD.value[alloy]
    thick = ALUMINIUM_YIELD_THICK.value
    return min(least, int(thick["psi"])) if section.thickest > thick["from"] else least


def rail_findings(
    rail: Rail, still: RailWorst, slammed: RailWorst, house: House
) -> tuple[Finding, ...]:
    """Compare sag with its limit and bending stress with the alloy's.

    Source: sag by house setting (no building code limits the sag of a door rail), strength by the
    Aluminum Design Manual on the least yield strength (from memory).

    Args:
        rail: the rail [-].
        still: the worst with panels as they weigh [-].
        slammed: the worst with the slam factor [-].
        house: the firm's settings [-].

    Returns:
        The findings [-].
    """
    sag_nm = sag_up_nm(still.sag.value)
    asked = Asked(
        "rail.sag",
        f"Does the head rail sag less than 1/{RAIL_SAG_SPAN.value} of its span?",
        "head rail",
        RAIL_SAG_SPAN.source,
        "Take a stiffer rail, or carry it in the middle: the panels will roll to its lowest place.",
    )
    by_span = advised(asked, sag_nm, house, most_nm=rail.span_nm // RAIL_SAG_SPAN.value)
    return (by_span, *_clear(rail, sag_nm, house), _stress(rail, slammed, house))


def _clear(rail: Rail, sag_nm: int, house: House) -> tuple[Finding, ...]:
    """Compare the sag with the clearance under the panels, of which a little is kept."""
    if rail.clear_below_nm is None:
        return ()
    asked = Asked(
        "rail.clear",
        f"Do the panels stay {mm_text(RAIL_CLEAR_LEFT.value)} clear below when the rail sags?",
        "head rail",
        RAIL_CLEAR_LEFT.source,
        "Take a stiffer rail, or hang the panels higher: they would drag.",
    )
    limit_nm = max(rail.clear_below_nm - RAIL_CLEAR_LEFT.value, 0)
    return (compared(asked, Measured(sag_nm, sag_nm, 0.0), house, most_nm=limit_nm),)


def _stress(rail: Rail, slammed: RailWorst, house: House) -> Finding:
    least = ALUMINIUM_YIELD.value[rail.alloy]
    if house.rules >= KNOWS_THICK_RAILS:
        least = rail_yield_psi(rail.alloy, rail.section)
    allowed = least / ALUMINIUM_SAFETY.value
    stress = slammed.moment.value / rail.section.modulus
    share = Share(stress, allowed)
    asked = Asked(
        "rail.bending",
        f"Is the {rail.alloy} rail strong enough with the slam factor?",
        "head rail",
        ALUMINIUM_YIELD.source,
        "Take a stronger rail: this one may bend for good.",
    )
    used = share_text(share.used)
    do = f"{used} of it is used." if share.used <= 1 else asked.remedy
    reading = f"{-(-stress // 1):.0f} psi"
    return spoken_finding(asked, reading, f"{allowed // 1:.0f} psi", share.state, do)


def section_read(own: Strict) -> Section | None:
    """Read the section of a rail; mistakes are noted on `own`.

    Args:
        own: the opened object with shape, width, height and wall [-].

    Returns:
        The section, or None when no such section can be [in].
    """
    shape = own.choice("shape", ("tube", "round", "bar"))
    height = own.length("height").nm / NM_PER_INCH
    width = own.length("width").nm / NM_PER_INCH if shape != "round" else height
    wall = own.length("wall").nm / NM_PER_INCH if shape != "bar" else 0.0
    try:
        if shape == "tube":
            return section_tube(width, height, wall)
        return section_round(height, wall) if shape == "round" else section_bar(width, height)
    except ValueError as error:
        own.refuse("wall", "not_in_range", str(error))
        return None


def _panel(own: Strict, span_nm: int) -> tuple[Train, int]:
    mass = mass_of(own, "mass")
    spacing, first, last = (
        own.length("roller_spacing").nm,
        own.length("first_from", zero=True).nm,
        own.length("first_to", zero=True).nm,
    )
    if not first <= last <= span_nm - spacing:
        own.errors.append(
            InputError(
                f"{own.pointer}/first_to",
                "off_the_rail",
                "The rollers leave the rail: first_from <= first_to <= span - roller_spacing.",
            )
        )
    inches = (spacing / NM_PER_INCH, first / NM_PER_INCH, last / NM_PER_INCH)
    return Train(weight_lbf(mass), *inches), mass


def sag_up_nm(inches: float) -> int:
    """Return a computed sag in whole micrometres, rounded up.

    Args:
        inches: the sag [in].

    Returns:
        The sag [nm].
    """
    return -int(-round(inches * NM_PER_INCH, 3) // _MICRO_NM) * _MICRO_NM
