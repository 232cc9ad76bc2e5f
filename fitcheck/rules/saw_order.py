"""What is asked of the saw this week: which pieces, which stock, which settings?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.length import Length
from fitcheck.rules.sawing import Convention, Kind, Piece, Saw, Stock, saw_plan
from fitcheck.rules.strict import Strict
from fitcheck.rules.tables_sawing import END_TRIM, KERF, LEAST_USEFUL, SECONDS

_CONVENTIONS: tuple[Convention, ...] = ("between", "per_piece")
_KINDS: tuple[Kind, ...] = ("new", "offcut")
MOST_PIECES = 2000


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer how to saw the pieces from the stock, with the proof or the gap.

    Source: `saw_plan`.

    Args:
        inputs: pieces, stock, saw, seconds [-].

    Returns:
        Bars with pieces and offcuts, cost, bound, what could not be cut [-].

    Raises:
        InputErrors: the inputs are malformed; one entry per mistake.
    """
    asked = saw_read(inputs)
    plan = saw_plan(asked.pieces, asked.stock, asked.saw, asked.seconds).as_json()
    plan["saw"] = {
        "convention": asked.saw.convention,
        "counted": "a kerf between two pieces, n - 1 of them"
        if asked.saw.convention == "between"
        else "a kerf for every piece, n of them",
    }
    return plan


@dataclass(frozen=True, slots=True)
class SawAsked:
    """A question about the saw, read and found to be well formed."""

    pieces: tuple[Piece, ...]
    stock: tuple[Stock, ...]
    saw: Saw
    seconds: int


def saw_read(inputs: Mapping[str, object]) -> SawAsked:
    """Read a question about the saw, without answering it.

    Args:
        inputs: pieces, stock, saw, seconds [-].

    Returns:
        What was asked [-].

    Raises:
        InputErrors: the inputs are malformed; one entry per mistake.
    """
    own = Strict.open(inputs, ("pieces", "stock", "saw", "seconds"), "", [])
    pieces = tuple(
        _piece(one) for one in own.children("pieces", ("job", "part", "length", "count"), 1, 500)
    )
    if sum(piece.count for piece in pieces) > MOST_PIECES:
        own.refuse("pieces", "too_many", f"At most {MOST_PIECES} pieces in one plan.")
    known = ("name", "kind", "length", "cost", "count")
    stock = tuple(_stock(one) for one in own.children("stock", known, 1))
    members = ("kerf", "trim", "convention", "least_useful")
    saw = _saw(own.child("saw", members) if own.has("saw") else Strict({}))
    most = SECONDS.value
    seconds = own.integer("seconds", 1, most) if own.has("seconds") else most
    own.finish()
    return SawAsked(pieces, stock, saw, seconds)


def _piece(piece: Strict) -> Piece:
    return Piece(
        piece.text("job"),
        piece.text("part"),
        piece.length("length").nm,
        piece.integer("count", 1, MOST_PIECES),
    )


def _stock(stock: Strict) -> Stock:
    kind = stock.choice("kind", _KINDS, "new")
    usual = "0" if kind == "offcut" else "1"
    cents = stock.number("cost", "0", "100000", usual) * 100
    if cents % 1:
        stock.refuse("cost", "not_in_range", "cost has at most two decimals.")
    count = stock.integer("count", 0, 10_000) if stock.has("count") else None
    if kind == "offcut" and count is None:
        count = 1
    return Stock(stock.text("name"), kind, stock.length("length").nm, int(cents), count)


def _saw(saw: Strict) -> Saw:
    def setting(name: str, usual: int) -> int:
        length: Length | None = saw.length_or_none(name, zero=True)
        return usual if length is None else length.nm

    return Saw(
        setting("kerf", KERF.value),
        setting("trim", END_TRIM.value),
        saw.choice("convention", _CONVENTIONS, "between"),
        setting("least_useful", LEAST_USEFUL.value),
    )
