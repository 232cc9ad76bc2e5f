"""Is this JSON a rule sheet, and if not, what exactly is wrong with it?"""

from collections.abc import Mapping
from dataclasses import replace

from fitcheck.rules import survey
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_anchor_read import ANCHOR, anchor_rule_read
from fitcheck.rules.sheet_made_read import MADE, made_glass_read
from fitcheck.rules.sheet_more import WALLS, RailRule
from fitcheck.rules.sheet_more_read import (
    GLAZING,
    RAIL,
    SLIDING,
    glazing_read,
    rail_rule_read,
    sliding_rule_read,
    walls_read,
)
from fitcheck.rules.sheet_parts import (
    BACKING,
    CUT,
    FIXING,
    PANEL,
    SEALANT,
    SIZE,
    amount_read,
    backing_read,
    between_read,
    curb_read,
    cut_read,
    document_read,
    fixing_read,
    lean_read,
    least_read,
    most_read,
    panel_read,
    sealant_read,
    size_read,
    step_read,
    substrates_read,
)
from fitcheck.rules.sheet_product_read import PRODUCT, product_read
from fitcheck.rules.strict import InputError, Strict

KINDS = ("bypass_slider", "single_slider", "hinged_door", "fixed_screen")
UNITS = ("inch", "metric")
SHEET = (
    "format",
    "document",
    "kind",
    "stands_on",
    "page",
    "unit",
    "sizes",
    "rail_height",
    "rail_height_page",
    "width_difference",
    "lean",
    "level",
    "sill_fall",
    "ceiling_height",
    "surround_height",
    "curb",
    "backing",
    "substrates",
    "cuts",
    "fixings",
    "panels",
    "sealant",
    "hands",
    "cure",
    "warranty",
    "claim",
    "steps",
    "walls",
    "rail",
    "glazing",
    "sliding",
    "sealant_product",
    "made_glass",
    "anchors",
)


def sheet_parse(body: object) -> Sheet:
    """Read a rule sheet, or say everything that is wrong with it at once.

    Args:
        body: the sheet as plain JSON [-].

    Returns:
        The sheet [-].

    Raises:
        InputErrors: one entry per mistake, with JSON Pointers into the body.

    Valid for: "format": 1.
    """
    errors: list[InputError] = []
    own = Strict.open(body, SHEET, "", errors)
    sheet = sheet_read(own)
    Strict({}, "", errors).finish()
    return sheet


def sheet_read(own: Strict) -> Sheet:
    """Read a rule sheet out of an opened object; mistakes are noted on it.

    Args:
        own: the opened sheet [-].

    Returns:
        The sheet; only to be used when no mistake was noted [-].
    """
    own.integer("format", 1, 1)
    sheet = Sheet(
        document=document_read(own.child("document", ("title", "edition", "language"))),
        kind=own.choice("kind", KINDS),
        stands_on=own.choices("stands_on", survey.STANDS_ON),
        page=own.text("page"),
        unit=own.choice("unit", UNITS),
        sizes=tuple(size_read(each) for each in own.children("sizes", SIZE, least=1)),
        rail_height=own.length_or_none("rail_height"),
        rail_height_page=own.text("rail_height_page", "-"),
        width_difference=own.optional("width_difference", ("most", "page"), most_read),
        lean=own.optional("lean", ("most", "over", "page"), lean_read),
        level=own.optional("level", ("most", "page"), most_read),
        sill_fall=own.optional("sill_fall", ("least", "most", "page"), between_read),
        ceiling_height=own.optional("ceiling_height", ("least", "page"), least_read),
        surround_height=own.optional("surround_height", ("least", "page"), least_read),
        curb=own.optional("curb", ("depth_least", "flat_least", "page"), curb_read),
        backing=tuple(backing_read(each) for each in own.children("backing", BACKING)),
        substrates=own.optional(
            "substrates", ("finishes", "structures", "fit", "page"), substrates_read
        ),
        cuts=tuple(cut_read(each) for each in own.children("cuts", CUT)),
        fixings=tuple(fixing_read(each) for each in own.children("fixings", FIXING)),
        panels=tuple(panel_read(each) for each in own.children("panels", PANEL)),
        sealant=tuple(sealant_read(each) for each in own.children("sealant", SEALANT)),
        hands=own.optional("hands", ("least", "page"), amount_read("least", 1, 12)),
        cure=own.optional("cure", ("hours", "page"), amount_read("hours", 0, 1000)),
        warranty=own.optional(
            "warranty", ("years", "terms", "page"), amount_read("years", 0, 100, "terms")
        ),
        claim=own.optional(
            "claim",
            ("contact", "within_days", "page"),
            amount_read("within_days", 0, 1000, "contact"),
        ),
        steps=tuple(step_read(each) for each in own.children("steps", ("text", "page"))),
    )
    sheet = _with_more(own, sheet)
    _refuse_loose_ends(own, sheet)
    return sheet


def _with_more(own: Strict, sheet: Sheet) -> Sheet:
    """Read the parts that a sheet may leave out altogether."""
    return replace(
        sheet,
        walls=walls_read(own),
        rail=own.optional("rail", RAIL, rail_rule_read),
        glazing=own.optional("glazing", GLAZING, glazing_read),
        sliding=own.optional("sliding", SLIDING, sliding_rule_read),
        sealant_product=own.optional("sealant_product", PRODUCT, product_read),
        made_glass=own.optional("made_glass", MADE, made_glass_read),
        anchors=tuple(anchor_rule_read(each) for each in own.children("anchors", ANCHOR)),
    )


def _refuse_loose_ends(own: Strict, sheet: Sheet) -> None:
    codes = [size.code for size in sheet.sizes]
    if len(set(codes)) < len(codes):
        own.refuse("sizes", "code_twice", "Two sizes have the same code.")
    named: Mapping[str, list[tuple[str, ...]]] = {
        "cuts": [cut.sizes for cut in sheet.cuts],
        "panels": [panel.sizes for panel in sheet.panels],
    }
    for member, lists in named.items():
        strangers = {code for sizes in lists for code in sizes} - set(codes)
        if codes and strangers:
            detail = f"Sizes named in {member} but not in sizes: {', '.join(sorted(strangers))}."
            own.refuse(member, "size_unknown", detail)
    panels = {panel.name for panel in sheet.panels}
    panels |= {panel.name for panel in sheet.made_glass.panels} if sheet.made_glass else set()
    missing = {name for size in sheet.sizes for name in size.panels} - panels
    if missing:
        own.refuse("sizes", "panel_unknown", f"No such panel: {', '.join(sorted(missing))}.")
    _refuse_what_nothing_bears(own, sheet, panels)


def _refuse_what_nothing_bears(own: Strict, sheet: Sheet, panels: set[str]) -> None:
    for index, fixing in enumerate(sheet.fixings):
        bracket = fixing.bracket
        if bracket and bracket.bears == "rail" and sheet.rail is None:
            detail = f"fixings/{index}/bracket bears a rail; the sheet describes none."
            own.refuse("rail", "missing", detail)
        if bracket and bracket.hinge and bracket.hinge.panel not in panels:
            detail = f"No such panel: {bracket.hinge.panel} (fixings/{index}/bracket/hinge)."
            own.refuse("fixings", "panel_unknown", detail)
    if sheet.sliding and sheet.glazing is None:
        own.refuse("glazing", "missing", "`sliding` needs the edition that `glazing` names.")
    if sheet.rail:
        _refuse_loose_rail(own, sheet, sheet.rail, panels)
    if sheet.made_glass:
        _refuse_glass_made_for_nothing(own, sheet)


def _refuse_glass_made_for_nothing(own: Strict, sheet: Sheet) -> None:
    """Refuse glass made to measure beside boxed panels, without an edition, or to one wall."""
    if sheet.glazing is None:
        own.refuse("glazing", "missing", "`made_glass` needs the edition that `glazing` names.")
    if sheet.panels or any(size.panels for size in sheet.sizes):
        detail = "Panels come in the box or are made to measure: describe them in one place."
        own.refuse("panels", "two_kinds_of_panels", detail)
    if set(sheet.walls) != set(WALLS):
        own.refuse("walls", "walls_needed", "Glass made to measure is cut to both walls.")


def _refuse_loose_rail(own: Strict, sheet: Sheet, rail: RailRule, panels: set[str]) -> None:
    """Refuse a rail on which a panel that nobody knows hangs, or rolls wider than it is."""
    strangers = set(rail.hangs) - panels
    if strangers:
        detail = f"No such panel hangs on the rail: {', '.join(sorted(strangers))}."
        own.refuse("rail", "panel_unknown", detail)
    hung = [panel for panel in sheet.panels if not rail.hangs or panel.name in rail.hangs]
    widths = [panel.width.nm for panel in hung]
    widths += [window.least.nm for size in sheet.sizes for window in size.windows]
    if not own.errors and rail.roller_spacing.nm > min(widths, default=rail.roller_spacing.nm):
        detail = f"Rollers {rail.roller_spacing} apart are wider than a panel or an opening."
        own.refuse("rail", "rollers_too_wide", detail)
