"""How is each kind of rule on a sheet read, member by member?"""

from collections.abc import Callable
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
    SheetDocument,
    Size,
    Step,
    SubstrateRule,
    Window,
)
from fitcheck.rules.sheet_more import HANDLES
from fitcheck.rules.sheet_more_read import BRACKET, bracket_rule_read
from fitcheck.rules.strict import InputError, Strict

ENDS = ("either", "left", "right", "both")
MEASURED = ("width", "between_brackets")
REACHES = ("backing", "finish")
FIXING_SURFACES = ("left_wall", "right_wall", "both_walls", "sill")
ALONGS = ("left_wall", "right_wall", "sill")
MOST_HEIGHTS = 20
BEAD_SIDES = ("inside", "outside")
SCREW_SIZES = ("#4", "#6", "#8", "#9", "#10", "#12", "#14", "#16")

CUT = (
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
    "brackets_take",
    "kerf",
)
FIXING = (
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
    "bracket",
)
PANEL = (
    "name",
    "width",
    "height",
    "thickness",
    "hardware_mass",
    "order",
    "handing",
    "sizes",
    "page",
    "handle",
)
BACKING = ("place", "sides", "height", "setback_least", "setback_most", "page")
SIZE = ("code", "page", "windows", "panels")
SEALANT = ("run", "along", "side", "bead", "page")

Number = TypeVar("Number", int, Decimal)


def _page(own: Strict) -> str:
    return own.text("page")


def document_read(own: Strict) -> SheetDocument:
    """Read which document the sheet is."""
    return SheetDocument(own.text("title"), own.text("edition"), own.text("language", "en"))


def size_read(own: Strict) -> Size:
    """Read one size with its windows."""
    windows = tuple(
        _window(each)
        for each in own.children("windows", ("height", "least", "most"), 1, MOST_HEIGHTS)
    )
    return Size(own.text("code"), windows, own.texts("panels"), _page(own))


def _window(own: Strict) -> Window:
    window = Window(own.length("height", zero=True), own.length("least"), own.length("most"))
    _refuse_crossed(own, window.least, window.most)
    return window


def _refuse_crossed(own: Strict, least: Length | None, most: Length | None) -> None:
    if least and most and least.nm > most.nm:
        own.refuse("most", "limits_crossed", f"most {most} is less than least {least}.")


def most_read(own: Strict) -> Most:
    """Read a greatest value allowed."""
    return Most(own.length("most", zero=True), _page(own))


def least_read(own: Strict) -> Least:
    """Read a smallest value allowed."""
    return Least(own.length("least"), _page(own))


def between_read(own: Strict) -> Between:
    """Read a smallest and a greatest value allowed."""
    rule = Between(own.length("least", signed=True), own.length("most", signed=True), _page(own))
    _refuse_crossed(own, rule.least, rule.most)
    return rule


def lean_read(own: Strict) -> LeanRule:
    """Read how far a wall may be out of plumb."""
    return LeanRule(own.length("most", zero=True), own.length("over"), _page(own))


def amount_read(name: str, least: int, most: int, text: str = "") -> Callable[[Strict], Amount]:
    """Return a reader of a whole number that the sheet names, with a text if it has one."""

    def read(own: Strict) -> Amount:
        return Amount(
            own.integer(name, least, most), own.text(text, "-") if text else "", _page(own)
        )

    return read


def curb_read(own: Strict) -> CurbRule:
    """Read how deep and flat the curb must be."""
    return CurbRule(own.length_or_none("depth_least"), own.length_or_none("flat_least"), _page(own))


def backing_read(own: Strict) -> BackingRule:
    """Read where a stud or blocking must lie."""
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


def substrates_read(own: Strict) -> SubstrateRule:
    """Read which build-ups may hold a fixing."""
    return SubstrateRule(
        own.choices("finishes", survey.FINISHES),
        own.choices("structures", survey.STRUCTURES),
        own.choices("fit", survey.FITS),
        _page(own),
    )


def cut_read(own: Strict) -> CutRule:
    """Read how long a part is to be cut."""
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
        sizes=own.texts("sizes"),
        page=_page(own),
        brackets_take=own.length_or_none("brackets_take", zero=True),
        kerf=own.length_or_none("kerf"),
    )
    _refuse_crossed(own, rule.least, rule.most)
    return rule


def fixing_read(own: Strict) -> FixingRule:
    """Read where holes go and what they must reach."""
    surface = own.choice("surface", FIXING_SURFACES)
    rule = FixingRule(
        place=own.text("place"),
        surfaces=("left_wall", "right_wall") if surface == "both_walls" else (surface,),
        heights=_fixing_heights(own),
        count=own.integer("count", 1, 100),
        must_reach=own.choice("must_reach", REACHES),
        load_n=_number(own, "load", force_parse) if own.has("load") else None,
        screw=own.optional("screw", ("size", "length"), _screw),
        through_membrane=own.flag("through_membrane", default=False),
        page=_page(own),
        bracket=own.optional("bracket", BRACKET, bracket_rule_read),
    )
    _refuse_loose_bracket(own, rule)
    return rule


def _refuse_loose_bracket(own: Strict, rule: FixingRule) -> None:
    if rule.bracket is None:
        return
    if rule.bracket.top_row > rule.count:
        detail = "The top row has no more screws than the place has holes."
        own.refuse("bracket", "not_in_range", detail)
    if rule.bracket.bears == "load" and rule.load_n is None:
        own.refuse("bracket", "load_needed", "Give `load`, or say that it bears a rail or a hinge.")


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


def panel_read(own: Strict) -> PanelRule:
    """Read one pane."""
    return PanelRule(
        name=own.text("name"),
        width=own.length("width"),
        height=own.length("height"),
        thickness=own.length("thickness"),
        hardware_ug=_number(own, "hardware_mass", mass_parse) if own.has("hardware_mass") else 0,
        order=own.integer("order", 1, 50),
        handing=own.text("handing", "none"),
        sizes=own.texts("sizes"),
        page=_page(own),
        handle=own.choice("handle", HANDLES, "none"),
    )


def _number(own: Strict, name: str, parse: Callable[[object], Number]) -> Number:
    try:
        return parse(own.members.get(name))
    except ValueError as error:
        own.refuse(name, "amount_not_understood", f"{name} is not understood.", str(error))
        return parse("0 kg") if parse is mass_parse else parse("0 N")


def sealant_read(own: Strict) -> SealantRule:
    """Read one run of sealant."""
    return SealantRule(
        own.text("run"),
        own.choice("along", ALONGS),
        own.choice("side", BEAD_SIDES),
        own.length("bead"),
        _page(own),
    )


def step_read(own: Strict) -> Step:
    """Read one line about the order of work."""
    return Step(own.text("text"), _page(own))
