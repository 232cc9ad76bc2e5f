"""At which hold points does the crew stop, by the kind of door, and what is recorded at each?

The order is common practice of the trade, no source; the kit's own sheet outranks it.
"""

import re
from typing import Any

from fitcheck.rules.backing import is_masonry
from fitcheck.rules.length import Length
from fitcheck.rules.sheet import CutRule, Sheet, Size, applies
from fitcheck.rules.survey import Zone

Stop = dict[str, Any]
HANDED_OVER = "handed_over"
GLASS = "glass_inspected"
BRACKETS = "brackets_fixed"
BEAD = "bead_run"
LEAK_RESULTS = ("dry", "leaks", "after_cure")
SLIDERS = frozenset({"bypass_slider", "single_slider"})
GAP = "gap_at_strike"


def stops_for(sheet: Sheet, size: Size | None, zones: tuple[Zone, ...] = ()) -> list[Stop]:
    """List the hold points for a kit in their order; hinged and fixed glass have no head-rail cut.

    Args:
        sheet: the kit's rule sheet [-].
        size: the size that is hung, None when it is not settled [-].
        zones: what the survey found of the walls; masonry has no stud to be found [-].

    Returns:
        Each stop with its key, title, what to do, and what must be recorded [-].
    """
    cuts = cuts_of(sheet, size)
    return [
        _stop(GLASS, "Glass inspected", GLASS_SAYS, _yes("glass_sound"), PHOTO),
        _stop("opening_reread", "Opening re-read, agrees with the survey", REREAD, *_widths(sheet)),
        _stop("backing_located", "Backing and services located", BACKING, *_backing(sheet, zones)),
        _fixed(sheet, cuts),
        *(_cut(rule) for rule in cuts),
        _hardware(sheet.kind),
        _aligned(sheet.kind),
        _stop("seals_on", "Seals on", SEALS, _yes("seals_clear_of_moving_parts"), PHOTO),
        _stop(BEAD, "Bead run inside", BEADS, _yes("inside_only"), _yes("way_out_open"), PHOTO),
        _stop("leak_check", "Leak check", LEAK, _result(LEAK_RESULTS)),
        _stop(
            "final_photos", "Final photos", "Photograph the finished work from both sides.", PHOTO
        ),
        _stop(HANDED_OVER, "Label and care handed over", HANDOVER, {"kind": "handover"}),
    ]


def cuts_of(sheet: Sheet, size: Size | None) -> list[CutRule]:
    """List the cuts that the sheet asks for at this size, each part once."""
    rules = [rule for rule in sheet.cuts if applies(rule.sizes, size)]
    return list({rule.part: rule for rule in reversed(rules)}.values())[::-1]


def cut_key(part: str) -> str:
    """Return the key of the stop at which a part's saw mark is released."""
    return "cut_" + re.sub(r"[^a-z0-9]+", "_", part.lower()).strip("_")


GLASS_SAYS = (
    "Look over every panel on soft rests: edges, corners, holes, label. Two people for every panel; "
    "glass never on a hard floor nor on its corners."
)
REREAD = "Read the opening again before anything is drilled; it must agree with the survey."
BACKING = (
    "Find and mark the backing on both sides; locate pipes and cables before a hole is drilled. "
    "Eye protection and dust control at tile, stone and masonry."
)
SEALS = "Seals on, trimmed clear of rail and guide; guards off last."
BEADS = "Bead on the inside only; nothing blocks the way out for water."
LEAK = "Run water where the sheet allows it; where it must cure first, say so and plan the check."
HANDOVER = "Show the label, give the care sheet, tell how tempered glass fails; have it signed."
PHOTO = {"kind": "photo", "says": "At least one photo."}
SECOND = {
    "kind": "second_person",
    "says": "A second person of the crew looks as well, and says so from their own sign-in.",
}
YES = {
    "glass_sound": "Every panel is sound: no chip, no scratch, the label is there.",
    "backing_marked": "The backing is marked on both sides.",
    "services_located": "Pipes and cables are located, or there are none within reach of a screw.",
    "fixings_tight": "Every fixing holds in its backing and is sealed.",
    "catches_engaged": "The anti-lift catches are turned in under the rail.",
    "bushings_in": "Bushings and gaskets keep metal off glass everywhere.",
    "hinge_screws_tightened": "The hinge screws are tightened in turn.",
    "panel_braced": "The panel stands on its blocks and is braced.",
    "doors_close": "It closes along its whole height and stays where it is put.",
    "swing_clear": "It swings outward and clear of everything.",
    "plumb": "It stands plumb.",
    "seals_clear_of_moving_parts": "The seals run clear of everything that moves.",
    "inside_only": "The bead is on the inside only.",
    "way_out_open": "Nothing blocks the way out for water.",
}


def _yes(name: str) -> dict[str, Any]:
    return {"kind": "yes", "name": name, "says": YES[name]}


def _result(choices: tuple[str, ...]) -> dict[str, Any]:
    return {"kind": "result", "choices": list(choices), "says": f"One of {', '.join(choices)}."}


def _value(name: str, says: str) -> dict[str, Any]:
    return {"kind": "value", "name": name, "says": f"{says}: a length and the tool."}


def _stop(key: str, title: str, says: str, *needs: dict[str, Any]) -> Stop:
    return {"key": key, "title": title, "says": says, "needs": list(needs)}


def _reading(quantity: str, side: str, height: str, says: str) -> dict[str, Any]:
    return {"kind": "reading", "quantity": quantity, "side": side, "height": height, "says": says}


def _widths(sheet: Sheet) -> list[dict[str, Any]]:
    """Widths at every height that the sheet names for its cuts, else for its windows."""
    heights = {rule.height.nm: rule.height.entered for rule in sheet.cuts}
    if not heights:
        heights = {one.nm: one.entered for one in sheet.heights(None)}
    return [
        _reading("width", "none", heights[nm], f"The width at {heights[nm]} above the sill.")
        for nm in sorted(heights)
    ]


def _backing(sheet: Sheet, zones: tuple[Zone, ...]) -> list[dict[str, Any]]:
    places = [(side, rule.height) for rule in sheet.backing for side in rule.sides]
    found = [_behind(sheet, side, height, zones) for side, height in places]
    readings = [one for one in found if one]
    return [*readings, _yes("backing_marked"), _yes("services_located"), PHOTO]


def _behind(
    sheet: Sheet, side: str, height: Length, zones: tuple[Zone, ...]
) -> dict[str, Any] | None:
    """Ask for the middle of the backing; in masonry for the edge that an anchor's report asks for."""
    if not is_masonry(zones, f"{side}_wall", height):
        says = f"The centre of the backing on the {side} at {height}, from the sill's outer edge."
        return _reading("backing_centre", side, height.entered, says)
    if not sheet.anchors:
        return None
    says = f"From the holes to the nearest free edge of the masonry on the {side} at {height}."
    return _reading("masonry_edge", side, height.entered, says)


def _fixed(sheet: Sheet, cuts: list[CutRule]) -> Stop:
    heights = {one.height.nm: one.height.entered for one in cuts if one.measured != "width"}
    readings = [
        _reading("between_brackets", "none", text, f"The distance as fixed at {text}.")
        for text in heights.values()
    ]
    title = "Brackets fixed, as-fixed distance read" if readings else "Brackets fixed"
    if sheet.kind == "hinged_door":
        title = "Hinges fixed"
    if sheet.kind == "fixed_screen" and not readings:
        title = "Wall channel fixed"
    says = "Fix by the fastener schedule of each wall; then read what is really there."
    return _stop(BRACKETS, title, says, *readings, _yes("fixings_tight"), SECOND, PHOTO)


def _cut(rule: CutRule) -> Stop:
    says = (
        f"Two people read the distance for the {rule.part}, each for themselves; saw only at a "
        "released mark. Eye protection and gloves at the saw."
    )
    title = f"{rule.part[:1].upper()}{rule.part[1:]} cut released"
    return _stop(cut_key(rule.part), title, says, {"kind": "mark", "part": rule.part})


def _hardware(kind: str) -> Stop:
    if kind in SLIDERS:
        needs = (_yes("catches_engaged"), _yes("bushings_in"), SECOND, PHOTO)
        return _stop("catches_in", "Catches and bushings in", "The door cannot jump.", *needs)
    if kind == "hinged_door":
        needs = (_yes("bushings_in"), _yes("hinge_screws_tightened"), SECOND, PHOTO)
        says = "Gaskets between metal and glass; screws tightened in turn."
        return _stop("hinges_tight", "Gaskets in, hinges tight", says, *needs)
    needs = (_yes("bushings_in"), _yes("panel_braced"), SECOND, PHOTO)
    says = "Nobody lets go before the stay bar or clip holds."
    return _stop("panel_set", "Panel set and braced", says, *needs)


def _aligned(kind: str) -> Stop:
    if kind == "fixed_screen":
        needs = (_yes("plumb"), _value("out_of_plumb", "How far it leans over its height"))
        return _stop("panel_plumb", "Panel plumb", "Read it with a level.", *needs)
    swing = (_yes("swing_clear"),) if kind == "hinged_door" else ()
    needs = (_yes("doors_close"), *swing, _value(GAP, "The gap where the door meets its strike"))
    return _stop("doors_aligned", "Doors aligned and closing", "Bring them parallel.", *needs)
