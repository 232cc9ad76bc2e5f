"""How is each optional part of a sheet read: bracket, rail, glazing, sliding, sealant product?"""

from fitcheck.rules.glass import TUB_AND_SHOWER
from fitcheck.rules.pane_edition import EDITIONS
from fitcheck.rules.rail import section_read
from fitcheck.rules.rail_beam import section_bar
from fitcheck.rules.sheet_more import (
    BEARS,
    WALLS,
    BracketRule,
    GlazingRule,
    HingeRule,
    RailRule,
    SlidingRule,
)
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import mass_of
from fitcheck.rules.tables_fixings import ALUMINIUM_YIELD

BRACKET = (
    *("reach", "screw_height", "top_row", "thickness", "metal", "setback"),
    *("bears", "hinge", "spacing", "screw_width"),
)
RAIL = (
    *("shape", "width", "height", "wall", "alloy", "mass"),
    *("roller_spacing", "clear_below", "hangs", "page"),
)
GLAZING = ("product", "edition", "page")
SLIDING = ("tracks_apart", "overlap_least", "page")
_HINGE = ("panel", "centres", "offset")


def bracket_rule_read(own: Strict) -> BracketRule:
    """Read how a bracket sits on the wall and what it bears."""
    bears = own.choice("bears", BEARS, "load")
    hinge = own.optional("hinge", _HINGE, _hinge)
    if (bears == "hinge") != (hinge is not None):
        detail = "`hinge` belongs to a bracket that bears a hinge, and only to that."
        own.refuse("hinge", "hinge_needed", detail)
    return BracketRule(
        own.length("reach", zero=True),
        own.length("screw_height"),
        own.integer("top_row", 1, 20) if own.has("top_row") else 1,
        own.length("thickness"),
        own.choice("metal", ("steel", "aluminium"), "aluminium"),
        own.length_or_none("setback"),
        bears,
        hinge,
        own.length_or_none("spacing"),
        own.length_or_none("screw_width"),
    )


def _hinge(own: Strict) -> HingeRule:
    return HingeRule(own.text("panel"), own.length("centres"), own.length("offset", zero=True))


def rail_rule_read(own: Strict) -> RailRule:
    """Read the section of the head rail and how the panels roll on it."""
    return RailRule(
        section_read(own) or section_bar(1.0, 1.0),
        own.choice("alloy", tuple(ALUMINIUM_YIELD.value), "6063-T5"),
        mass_of(own, "mass") if own.has("mass") else 0,
        own.length("roller_spacing"),
        own.length_or_none("clear_below", zero=True),
        own.texts("hangs"),
        own.text("page"),
    )


def glazing_read(own: Strict) -> GlazingRule:
    """Read what the panes belong to, and by which edition they are made."""
    product = own.choice("product", TUB_AND_SHOWER)
    return GlazingRule(product, own.choice("edition", EDITIONS), own.text("page"))


def sliding_rule_read(own: Strict) -> SlidingRule:
    """Read how far tracks are apart and how far panels overlap."""
    least = own.length_or_none("overlap_least", zero=True)
    return SlidingRule(own.length("tracks_apart"), least, own.text("page"))


def walls_read(own: Strict) -> tuple[str, ...]:
    """Read which walls count; both unless the sheet says so."""
    return own.choices("walls", WALLS) if own.has("walls") else WALLS
