"""What does the glass demand: thickness, holes, hinges, sliding, safety mark, mass and centre?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.brackets import Hinges, hinge_couple
from fitcheck.rules.compare import Asked, compared
from fitcheck.rules.finding import Finding, Measured
from fitcheck.rules.force import force_json, spoken_finding, weight_lbf
from fitcheck.rules.length import NM_PER_INCH, mm_text
from fitcheck.rules.pane_checks import pane_findings
from fitcheck.rules.pane_edition import Edition
from fitcheck.rules.pane_geometry import Point
from fitcheck.rules.pane_outline import Pane, Quad
from fitcheck.rules.pane_read import Taken, edition_read, taken_from, taken_read
from fitcheck.rules.pane_taken import one_pane
from fitcheck.rules.panel_order import CAUTIONS, pane_json
from fitcheck.rules.safety_mark import JURISDICTIONS, safety_mark
from fitcheck.rules.sliding import SLIDING, sliding_findings, sliding_read
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import answered, inches_of, mass_of
from fitcheck.rules.survey import House, house_read

_QUESTION = (
    "edition",
    "thickness",
    "measured_thickness",
    "product",
    "jurisdiction",
    "name",
    "width",
    "height",
    "holes",
    "notches",
    "hardware_mass",
    "hinges",
    "sliding",
    "house",
)
PRODUCTS = (
    "shower door",
    "shower enclosure",
    "bathtub door",
    "bathtub enclosure",
    "interior door",
)


@dataclass(frozen=True, slots=True)
class PaneAsked:
    """A square-cut pane as asked for, before anything is placed in it."""

    width_nm: int
    height_nm: int
    taken: Taken
    hardware_ug: int
    name: str


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer what a square-cut pane demands.

    Source: ASTM C1036 and C1048 as restated, or EN 572-2 and EN 12150-1 (from memory), never
    mixed; 16 CFR 1201 for the category.

    Args:
        inputs: edition, pane, and how it hangs or slides [-].

    Returns:
        The pane with mass and centre, the mark to look for, hinge loads and the findings [-].

    Raises:
        InputErrors: what was sent makes no sense; every mistake is named.
    """
    own = Strict.open(inputs, _QUESTION, "", [])
    house = house_read(own)
    edition = edition_read(own)
    asked = _pane_asked(own)
    product = own.choice("product", PRODUCTS, "shower door")
    jurisdiction = own.choice("jurisdiction", JURISDICTIONS, "us")
    hinges = own.optional("hinges", ("centres", "offset"), _hinges)
    if hinges and 0 < asked.height_nm <= hinges[0] * NM_PER_INCH:
        detail = "The hinges are as far apart as the panel is high, or further."
        own.refuse("hinges", "not_in_range", detail, "centres: between the outer hinges")
    sliding = own.optional("sliding", SLIDING, sliding_read)
    measured = own.length_or_none("measured_thickness")
    own.finish()
    pane = _pane(asked, edition)
    findings = [*_thickness(pane, edition, measured.nm if measured else None, house)]
    findings += pane_findings(pane, edition, house)
    findings += sliding_findings(sliding, edition, house) if sliding else []
    width, height = pane.outline.right_foot.x, pane.outline.left_head.y
    mark = safety_mark(product, width * height, edition.name, house.rules, jurisdiction)
    return answered(
        tuple(findings),
        CAUTIONS,
        edition=edition.name,
        pane=pane_json(pane, edition, house),
        safety={
            "category": mark.category,
            "drop_class": mark.drop_class,
            "look_for": mark.look_for,
            "refuse": mark.refuse,
        },
        hinges=_hinge_json(pane, hinges) if hinges and one_pane(pane) else None,
    )


def thickness_finding(place: str, edition: Edition, measured_nm: int, house: House) -> Finding:
    """Compare a measured thickness with what may bear the nominal name.

    Source: ASTM C1036 as restated, or EN 572-2 (from memory).

    Args:
        place: the pane [-].
        edition: the edition with the nominal thickness [-].
        measured_nm: as measured [nm].
        house: the firm's settings [-].

    Returns:
        The finding [-].
    """
    named = mm_text(edition.thickness_nm)
    asked = Asked(
        "pane.thickness",
        f"May glass this thick be called {named}?",
        place,
        _thickness_source(edition),
        "Refuse the pane: it is not the thickness that was ordered.",
    )
    window = edition.thickness_window_nm()
    if window is None:
        do = "Ask the temperer which thickness is allowed under this name."
        return spoken_finding(asked, mm_text(measured_nm), "not known", "unknown", do)
    value = Measured(measured_nm, measured_nm, 0.0)
    return compared(asked, value, house, least_nm=window[0], most_nm=window[1])


def hinge_share(
    weight: float, width_in: float, offset_in: float, centres_in: float
) -> tuple[float, float, float]:
    """Return the pull at the top hinge, and the weight on one hinge, shared and not shared.

    Source: equilibrium: H = W (w/2 + s) / h; sharing the weight is hoped for, not counted on.

    Args:
        weight: glass and hardware [lbf].
        width_in: width of the door [in].
        offset_in: from the hinge line to the edge of the glass [in].
        centres_in: between the hinges, the outer ones [in].

    Returns:
        Couple, weight per hinge if two share it, weight if one carries all [lbf].
    """
    couple = hinge_couple(Hinges(weight, width_in, offset_in, centres_in))
    return couple, weight / 2, weight


def _thickness_source(edition: Edition) -> Source:
    if edition.name == "c1048":
        return structure_source("c1036", "published", "minimum thickness")
    return structure_source("en572_2", "from memory", "thickness")


def _thickness(
    pane: Pane, edition: Edition, measured_nm: int | None, house: House
) -> list[Finding]:
    if measured_nm is None:
        return []
    return [thickness_finding(pane.name, edition, measured_nm, house)]


def _pane_asked(own: Strict) -> PaneAsked:
    return PaneAsked(
        own.length("width").nm,
        own.length("height").nm,
        taken_read(own),
        mass_of(own, "hardware_mass") if own.has("hardware_mass") else 0,
        own.text("name", "panel"),
    )


def _pane(asked: PaneAsked, edition: Edition) -> Pane:
    """Return the pane, once nothing that was sent of it is out of its range."""
    width, height = asked.width_nm, asked.height_nm
    quad = Quad(Point(0, 0), Point(width, 0), Point(width, height), Point(0, height))
    holes, notches = taken_from(quad, asked.taken)
    return Pane(asked.name, quad, edition.thickness_nm, holes, notches, asked.hardware_ug)


def _hinges(own: Strict) -> tuple[float, float]:
    return inches_of(own, "centres") or 1.0, inches_of(own, "offset", zero=True)


def _hinge_json(pane: Pane, hinges: tuple[float, float]) -> dict[str, object]:
    centres, offset = hinges
    weight = weight_lbf(pane.mass_ug())
    width = pane.outline.right_foot.x / NM_PER_INCH
    couple, shared, alone = hinge_share(weight, width, offset, centres)
    return {
        "weight": force_json(weight, "up"),
        "top_pulls": force_json(couple, "up"),
        "bottom_pushes": force_json(couple, "up"),
        "down_if_two_share": force_json(shared, "up"),
        "down_if_one_carries_all": force_json(alone, "up"),
        "note": "A third hinge does not lessen the pull at the top one; check one hinge for all.",
    }
