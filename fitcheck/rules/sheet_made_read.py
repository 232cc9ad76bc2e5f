"""How is glass made to measure read on a sheet?"""

from fitcheck.rules.length import Length
from fitcheck.rules.pane_outline import EDGES
from fitcheck.rules.pane_read import HOLE, LEVELS, NOTCH, thickness_read
from fitcheck.rules.sheet_made import (
    MADE_SIDES,
    MadeGaps,
    MadeGlass,
    MadeHole,
    MadeNotch,
    MadePanel,
)
from fitcheck.rules.sheet_more import HANDLES
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import mass_of

MADE = ("thickness", "gaps", "top", "channel_hides", "panels", "page")
_GAPS = ("left", "right", "head", "foot", "between")
_PANEL = (
    *("name", "width", "least", "most", "holes", "notches"),
    *("hardware_mass", "order", "handing", "handle", "page"),
)
_MOST_PANELS = 12  # as many as an order takes


def made_glass_read(own: Strict) -> MadeGlass:
    """Read what a sheet says of glass made to measure; mistakes are noted on `own`.

    Args:
        own: the opened member [-].

    Returns:
        The glass; only to be used when no mistake was noted [-].
    """
    thickness = thickness_read(own)
    gaps = own.child("gaps", _GAPS)
    made = MadeGlass(
        thickness,
        MadeGaps(*(_gap(gaps, name) for name in _GAPS)),
        own.length_or_none("top"),
        own.length_or_none("channel_hides", zero=True),
        tuple(_panel(each) for each in own.children("panels", _PANEL, 1, _MOST_PANELS)),
        own.text("page"),
    )
    names = [panel.name for panel in made.panels if panel.name]
    if len(set(names)) < len(names):
        own.refuse("panels", "name_twice", "Every panel has a name of its own.")
    if made.panels and all(panel.width for panel in made.panels):
        detail = "One panel at least has no width, and takes what the others leave."
        own.refuse("panels", "nothing_adapts", detail)
    return made


def _gap(own: Strict, name: str) -> Length:
    if name == "between" and not own.has(name):
        return Length(0, "0 mm")
    return own.length(name, zero=True)


def _panel(own: Strict) -> MadePanel:
    heavy = own.has("hardware_mass")
    panel = MadePanel(
        name=own.text("name"),
        width=own.length_or_none("width"),
        least=own.length_or_none("least"),
        most=own.length_or_none("most"),
        holes=tuple(_hole(each) for each in own.children("holes", HOLE)),
        notches=tuple(_notch(each) for each in own.children("notches", NOTCH)),
        hardware=str(own.members["hardware_mass"]) if heavy else "",
        hardware_ug=mass_of(own, "hardware_mass") if heavy else 0,
        order=own.integer("order", 1, 50),
        handing=own.text("handing", "none"),
        handle=own.choice("handle", HANDLES, "none"),
        page=own.text("page"),
    )
    if panel.least and panel.most and panel.least.nm > panel.most.nm:
        own.refuse("most", "limits_crossed", "most is less than least.")
    if panel.handle == "none" and any(hole.side == "handle" for hole in panel.holes):
        own.refuse("handle", "missing", "A hole goes by the handle's side; say which that is.")
    return panel


def _hole(own: Strict) -> MadeHole:
    return MadeHole(
        own.text("name"),
        own.choice("from", MADE_SIDES),
        own.length("across"),
        own.choice("up_from", LEVELS),
        own.length("up"),
        own.length("diameter"),
    )


def _notch(own: Strict) -> MadeNotch:
    return MadeNotch(
        own.text("name"),
        own.choice("edge", EDGES),
        own.length("start", zero=True),
        own.length("length"),
        own.length("depth"),
        own.length("radius", zero=True),
    )
