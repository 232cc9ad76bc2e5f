"""Is this JSON a rule sheet, and if not, what exactly is wrong with it?"""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import TypeVar

from fitcheck.rules import survey
from fitcheck.rules.length import Length
from fitcheck.rules.quantity import force_parse, mass_parse
from fitcheck.rules.sheet import (
    Amount,
    BackingRule,
    Between,
    CurbRule,
    CutRule,
    FixingRule,
    LeanRule,
    Least,
    Most,
    PanelRule,
    Screw,
    SealantRule,
    Sheet,
    SheetDocument,
    Size,
    Step,
    SubstrateRule,
    Window,
)
from fitcheck.rules.strict import InputError, Strict

KINDS = ("bypass_slider", "single_slider", "hinged_door", "fixed_screen")
UNITS = ("inch", "metric")
ENDS = ("either", "left", "right", "both")
MEASURED = ("width", "between_brackets")
REACHES = ("backing", "finish")
FIXING_SURFACES = ("left_wall", "right_wall", "both_walls", "sill")
ALONGS = ("left_wall", "right_wall", "sill")
MOST_HEIGHTS = 20
BEAD_SIDES = ("inside", "outside")
SCREW_SIZES = ("#4", "#6", "#8", "#9", "#10", "#12", "#14", "#16")

_SHEET = (
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
)
_CUT = (
    "part",
    "from",
    "height",
    "deduct",
    "stock",
    "least",
    "most",
    "end",
    "count",
    "allowance",
    "sizes",
    "page",
)
_FIXING = (
    "place",
    "surface",
    "height",
    "heights",
    "count",
    "must_reach",
    "load",
    "screw",
    "through_membrane",
    "page",
)
_PANEL = (
    "name",
    "width",
    "height",
    "thickness",
    "hardware_mass",
    "order",
    "handing",
    "sizes",
    "page",
)
_BACKING = ("place", "sides", "height", "setback_least", "setback_most", "page")

Number = TypeVar("Number", int, Decimal)


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
    own = Strict.open(body, _SHEET, "", errors)
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
        document=_document(own.child("document", ("title", "edition", "language"))),
        kind=own.choice("kind", KINDS),
        stands_on=own.choices("stands_on", survey.STANDS_ON),
        page=_page(own),
        unit=own.choice("unit", UNITS),
        sizes=tuple(
            _size(each)
            for each in own.children("sizes", ("code", "page", "windows", "panels"), least=1)
        ),
        rail_height=own.length_or_none("rail_height"),
        rail_height_page=own.text("rail_height_page", "-"),
        width_difference=own.optional("width_difference", ("most", "page"), _most),
        lean=own.optional("lean", ("most", "over", "page"), _lean),
        level=own.optional("level", ("most", "page"), _most),
        sill_fall=own.optional("sill_fall", ("least", "most", "page"), _between),
        ceiling_height=own.optional("ceiling_height", ("least", "page"), _least),
        surround_height=own.optional("surround_height", ("least", "page"), _least),
        curb=own.optional("curb", ("depth_least", "flat_least", "page"), _curb),
        backing=tuple(_backing(each) for each in own.children("backing", _BACKING)),
        substrates=own.optional(
            "substrates", ("finishes", "structures", "fit", "page"), _substrates
        ),
        cuts=tuple(_cut(each) for each in own.children("cuts", _CUT)),
        fixings=tuple(_fixing(each) for each in own.children("fixings", _FIXING)),
        panels=tuple(_panel(each) for each in own.children("panels", _PANEL)),
        sealant=tuple(
            _sealant(each)
            for each in own.children("sealant", ("run", "along", "side", "bead", "page"))
        ),
        hands=own.optional("hands", ("least", "page"), _amount("least", 1, 12)),
        cure=own.optional("cure", ("hours", "page"), _amount("hours", 0, 1000)),
        warranty=own.optional(
            "warranty", ("years", "terms", "page"), _amount("years", 0, 100, "terms")
        ),
        claim=own.optional(
            "claim", ("contact", "within_days", "page"), _amount("within_days", 0, 1000, "contact")
        ),
        steps=tuple(
            Step(each.text("text"), _page(each)) for each in own.children("steps", ("text", "page"))
        ),
    )
    _refuse_loose_ends(own, sheet)
    return sheet


def _page(own: Strict) -> str:
    return own.text("page")


def _document(own: Strict) -> SheetDocument:
    return SheetDocument(own.text("title"), own.text("edition"), own.text("language", "en"))


def _size(own: Strict) -> Size:
    windows = tuple(
        _window(each)
        for each in own.children("windows", ("height", "least", "most"), 1, MOST_HEIGHTS)
    )
    return Size(own.text("code"), windows, _names(own, "panels"), _page(own))


def _window(own: Strict) -> Window:
    window = Window(own.length("height", zero=True), own.length("least"), own.length("most"))
    _refuse_crossed(own, window.least, window.most)
    return window


def _refuse_crossed(own: Strict, least: Length | None, most: Length | None) -> None:
    if least and most and least.nm > most.nm:
        own.refuse("most", "limits_crossed", f"most {most} is less than least {least}.")


def _names(own: Strict, name: str) -> tuple[str, ...]:
    names = []
    for index, value in enumerate(own.items(name)):
        if isinstance(value, str) and value:
            names.append(value)
        else:
            own.refuse(f"{name}", "not_a_text", f"{name}/{index} is a name.")
    return tuple(names)


def _most(own: Strict) -> Most:
    return Most(own.length("most", zero=True), _page(own))


def _least(own: Strict) -> Least:
    return Least(own.length("least"), _page(own))


def _between(own: Strict) -> Between:
    rule = Between(own.length("least", signed=True), own.length("most", signed=True), _page(own))
    _refuse_crossed(own, rule.least, rule.most)
    return rule


def _lean(own: Strict) -> LeanRule:
    return LeanRule(own.length("most", zero=True), own.length("over"), _page(own))


def _amount(name: str, least: int, most: int, text: str = "") -> Callable[[Strict], Amount]:
    def read(own: Strict) -> Amount:
        return Amount(
            own.integer(name, least, most), own.text(text, "-") if text else "", _page(own)
        )

    return read


def _curb(own: Strict) -> CurbRule:
    return CurbRule(own.length_or_none("depth_least"), own.length_or_none("flat_least"), _page(own))


def _backing(own: Strict) -> BackingRule:
    rule = BackingRule(
        own.text("place"),
        own.choices("sides", ("left", "right")),
        own.length("height", zero=True),
        own.length("setback_least", zero=True),
        own.length_or_none("setback_most"),
        _page(own),
    )
    if rule.setback_most and rule.setback_most.nm < rule.setback_least.nm:
        own.refuse("setback_most", "limits_crossed", "setback_most is less than setback_least.")
    return rule


def _substrates(own: Strict) -> SubstrateRule:
    return SubstrateRule(
        own.choices("finishes", survey.FINISHES),
        own.choices("structures", survey.STRUCTURES),
        own.choices("fit", survey.FITS),
        _page(own),
    )


def _cut(own: Strict) -> CutRule:
    rule = CutRule(
        part=own.text("part"),
        measured=own.choice("from", MEASURED),
        height=own.length("height", zero=True),
        deduct=own.length("deduct", zero=True),
        stock=own.length("stock"),
        least=own.length_or_none("least"),
        most=own.length_or_none("most"),
        end=own.choice("end", ENDS, "either"),
        count=own.integer("count", 1, 50) if own.has("count") else 1,
        allowance=own.length_or_none("allowance", zero=True),
        sizes=_names(own, "sizes"),
        page=_page(own),
    )
    _refuse_crossed(own, rule.least, rule.most)
    return rule


def _fixing(own: Strict) -> FixingRule:
    surface = own.choice("surface", FIXING_SURFACES)
    return FixingRule(
        place=own.text("place"),
        surfaces=("left_wall", "right_wall") if surface == "both_walls" else (surface,),
        heights=_fixing_heights(own),
        count=own.integer("count", 1, 100),
        must_reach=own.choice("must_reach", REACHES),
        load_n=_number(own, "load", force_parse) if own.has("load") else None,
        screw=own.optional("screw", ("size", "length"), _screw),
        through_membrane=own.flag("through_membrane", default=False),
        page=_page(own),
    )


def _fixing_heights(own: Strict) -> tuple[Length, ...]:
    if own.has("height") == own.has("heights"):
        own.refuse("height", "height_needed", "Give height or heights, one of the two.")
        return ()
    if own.has("height"):
        return (own.length("height", zero=True),)
    each = [Strict({"it": value}) for value in own.items("heights", least=1, most=MOST_HEIGHTS)]
    lengths = tuple(one.length("it", zero=True) for one in each)
    for index, one in enumerate(each):
        own.errors += [
            InputError(f"{own.pointer}/heights/{index}", e.code, e.detail, e.hint)
            for e in one.errors
        ]
    return lengths


def _screw(own: Strict) -> Screw:
    return Screw(own.choice("size", SCREW_SIZES), own.length("length"))


def _panel(own: Strict) -> PanelRule:
    return PanelRule(
        name=own.text("name"),
        width=own.length("width"),
        height=own.length("height"),
        thickness=own.length("thickness"),
        hardware_ug=_number(own, "hardware_mass", mass_parse) if own.has("hardware_mass") else 0,
        order=own.integer("order", 1, 50),
        handing=own.text("handing", "none"),
        sizes=_names(own, "sizes"),
        page=_page(own),
    )


def _number(own: Strict, name: str, parse: Callable[[object], Number]) -> Number:
    try:
        return parse(own.members.get(name))
    except ValueError as error:
        own.refuse(name, "amount_not_understood", f"{name} is not understood.", str(error))
        return parse("0 kg") if parse is mass_parse else parse("0 N")


def _sealant(own: Strict) -> SealantRule:
    return SealantRule(
        own.text("run"),
        own.choice("along", ALONGS),
        own.choice("side", BEAD_SIDES),
        own.length("bead"),
        _page(own),
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
        if strangers:
            detail = f"Sizes named in {member} but not in sizes: {', '.join(sorted(strangers))}."
            own.refuse(member, "size_unknown", detail)
    panels = {panel.name for panel in sheet.panels}
    missing = {name for size in sheet.sizes for name in size.panels} - panels
    if missing:
        own.refuse("sizes", "panel_unknown", f"No such panel: {', '.join(sorted(missing))}.")
