"""How are the week's pieces sawn from the stock, bar by bar, and what is left of each?"""

import time
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import Literal

from fitcheck.rules.least_bars import Solved, cheapest, sparing
from fitcheck.rules.length import computed, mm_text
from fitcheck.rules.patterns import Packing, Use
from fitcheck.rules.sources_site import site_source

Kind = Literal["new", "offcut"]
Convention = Literal["between", "per_piece"]


@dataclass(frozen=True, slots=True)
class Piece:
    """Pieces of one length for one job."""

    job: str
    part: str
    length_nm: int
    count: int


@dataclass(frozen=True, slots=True)
class Stock:
    """Bars of one length: new ones, trimmed at both ends, or an offcut with sawn ends."""

    name: str
    kind: Kind
    length_nm: int
    cost_cents: int
    count: int | None


@dataclass(frozen=True, slots=True)
class Saw:
    """How the saw works: kerf, end trim, how kerfs are counted, what is worth keeping.

    "between" counts a kerf between two pieces, n - 1 of them; "per_piece" counts one for each.
    """

    kerf_nm: int
    trim_nm: int
    convention: Convention
    least_useful_nm: int

    def room(self, stock: Stock) -> int:
        """Return the room of a bar for pieces that each carry a kerf; none below zero [nm]."""
        extra = self.kerf_nm if self.convention == "between" else 0
        return max(0, stock.length_nm - 2 * self.trim_of(stock) + extra)

    def trim_of(self, stock: Stock) -> int:
        """Return what is trimmed off each end of a bar [nm]."""
        return self.trim_nm if stock.kind == "new" else 0


@dataclass(frozen=True, slots=True)
class Sawn:
    """One piece in its place along the bar."""

    job: str
    part: str
    start_nm: int
    end_nm: int

    def as_json(self) -> dict[str, object]:
        """Return the piece as plain JSON."""
        return {
            "job": self.job,
            "part": self.part,
            "length": computed(self.end_nm - self.start_nm, "down"),
            "from": mm_text(self.start_nm),
            "to": mm_text(self.end_nm),
            "from_inch": computed(self.start_nm, "up")["inch"],
            "to_inch": computed(self.end_nm, "down")["inch"],
        }


@dataclass(frozen=True, slots=True)
class SawnBar:
    """One bar: its pieces from left to right, and what is left at its right end."""

    stock: Stock
    pieces: tuple[Sawn, ...]
    trim_nm: int
    rest_nm: int
    kept: bool

    def as_json(self) -> dict[str, object]:
        """Return the bar as plain JSON."""
        used = sum(piece.end_nm - piece.start_nm for piece in self.pieces)
        return {
            "bar": self.stock.name,
            "kind": self.stock.kind,
            "length": computed(self.stock.length_nm, "down"),
            "trim_each_end": mm_text(self.trim_nm),
            "trim_each_end_inch": computed(self.trim_nm, "up")["inch"],
            "pieces": [piece.as_json() for piece in self.pieces],
            "rest": computed(self.rest_nm, "down"),
            "offcut_kept": self.kept,
            "lost": mm_text(self.stock.length_nm - used - (self.rest_nm if self.kept else 0)),
        }


@dataclass(frozen=True, slots=True)
class SawPlan:
    """Every bar, what could not be cut and why, the cost, and the proof."""

    bars: tuple[SawnBar, ...]
    uncut: tuple[tuple[Piece, str], ...]
    cost_cents: int
    bound_cents: int
    proven: bool
    method: str

    def as_json(self) -> dict[str, object]:
        """Return the plan as plain JSON."""
        stock = sum(bar.stock.length_nm for bar in self.bars)
        used = sum(p.end_nm - p.start_nm for bar in self.bars for p in bar.pieces)
        kept = sum(bar.rest_nm for bar in self.bars if bar.kept)
        return {
            "state": "fails" if self.uncut else "fits",
            "bars": [bar.as_json() for bar in self.bars],
            "bar_count": len(self.bars),
            "cost": cents_text(self.cost_cents),
            "bound": cents_text(self.bound_cents),
            "gap": cents_text(self.cost_cents - self.bound_cents),
            "proven": self.proven,
            "method": self.method,
            "waste_percent": percent_text(stock - used - kept, stock),
            "uncut": [
                {
                    "job": p.job,
                    "part": p.part,
                    "length": computed(p.length_nm, "down"),
                    "count": p.count,
                    "why": why,
                }
                for p, why in self.uncut
            ],
            "source": site_source("packing", "derived", "patterns").as_json(),
            "do": self._do(),
            "cautions": [
                "A plan releases no mark: each cut is sawn to its own released mark, read twice.",
                "Wear eye and hearing protection at the saw, clamp the bar, deburr the ends.",
            ],
        }

    def _do(self) -> str:
        if self.uncut:
            return "Order more or longer stock: some pieces have no bar."
        if self.proven:
            return "Saw the bars in this order; no plan is cheaper."
        gap = cents_text(self.cost_cents - self.bound_cents)
        return f"Saw the bars in this order; at most {gap} could be saved by a better plan."


def saw_plan(
    pieces: tuple[Piece, ...], stock: tuple[Stock, ...], saw: Saw, seconds: float
) -> SawPlan:
    """Return a cheapest way to saw all pieces from the stock, with its proof or its gap.

    With a kerf between pieces, sum w + (n-1) k <= L is sum (w + k) <= L + k; with one per piece
    sum (w + k) <= L; new bars lose a trim at both ends first. A rest is what lies beyond the last
    kerf; it is kept as an offcut from the least useful length on. What is sawn
    from offcuts is laid out so that fewer and shorter ones are broken, in the time that is left.

    Source: bin packing and cutting stock; `cheapest` for the proof.

    Args:
        pieces: what is to be cut [nm].
        stock: bars and offcuts with their cost [nm, cents].
        saw: kerf, trim, convention, least useful length [nm].
        seconds: how long to think at most [s].

    Returns:
        The plan [-].
    """
    longest = max((saw.room(each) for each in stock), default=0)
    fit = [piece for piece in pieces if piece.length_nm + saw.kerf_nm <= longest]
    too_long = [(piece, _too_long(piece, stock, saw)) for piece in pieces if piece not in fit]
    if not fit:
        return SawPlan((), tuple(too_long), 0, 0, True, "nothing to cut")
    packing = _packing(fit, stock, saw)
    ends = time.monotonic() + seconds
    solved = cheapest(packing, seconds)
    solved = sparing(packing, solved, _spare(stock), ends - time.monotonic())
    bars, left = _sawn(fit, stock, saw, packing, solved.uses)
    uncut = [*too_long, *((piece, "no bar is left for it") for piece in _together(left))]
    cost = sum(bar.stock.cost_cents for bar in bars)
    return SawPlan(bars, tuple(uncut), cost, _bound(solved, cost), solved.proven, solved.method)


def _too_long(piece: Piece, stock: tuple[Stock, ...], saw: Saw) -> str:
    if piece.length_nm > max((each.length_nm for each in stock), default=0):
        return "longer than every bar"
    if saw.convention == "between":
        return "longer than every bar once its ends are trimmed"
    return "longer than every bar once its ends are trimmed and its kerf is off"


def _spare(stock: tuple[Stock, ...]) -> tuple[int, ...]:
    """Return what it counts to break each: hundredths of the longest offcut, 0 for new bars."""
    offcuts = [each.length_nm for each in stock if each.kind == "offcut"]
    longest = max(offcuts, default=1)
    return tuple(
        -(-100 * each.length_nm // longest) if each.kind == "offcut" else 0 for each in stock
    )


def _together(left: list[Piece]) -> list[Piece]:
    """Return pieces with no bar, one row for those of one job, part and length."""
    counts = Counter((piece.job, piece.part, piece.length_nm) for piece in left)
    return [Piece(*key, count) for key, count in counts.items()]


def _bound(solved: Solved, cost: int) -> int:
    if solved.proven:
        return cost
    return 0 if any(solved.uncut) else min(cost, solved.bound)


def _packing(pieces: list[Piece], stock: tuple[Stock, ...], saw: Saw) -> Packing:
    wanted: dict[int, int] = defaultdict(int)
    for piece in pieces:
        wanted[piece.length_nm + saw.kerf_nm] += piece.count
    sizes = tuple(sorted(wanted, reverse=True))
    return Packing(
        sizes,
        tuple(wanted[size] for size in sizes),
        tuple(saw.room(each) for each in stock),
        tuple(each.cost_cents for each in stock),
        tuple(each.count for each in stock),
    )


def _sawn(
    pieces: list[Piece],
    stock: tuple[Stock, ...],
    saw: Saw,
    packing: Packing,
    uses: tuple[Use, ...],
) -> tuple[tuple[SawnBar, ...], list[Piece]]:
    waiting: dict[int, list[Piece]] = defaultdict(list)
    for piece in sorted(pieces, key=lambda each: (each.job, each.part), reverse=True):
        one = Piece(piece.job, piece.part, piece.length_nm, 1)
        waiting[piece.length_nm + saw.kerf_nm] += [one] * piece.count
    bars = []
    for use in sorted(uses, key=lambda each: (each.bar, each.pattern), reverse=True):
        for _ in range(use.times):
            taken = [
                waiting[size].pop()
                for size, number in zip(packing.sizes, use.pattern, strict=True)
                for _ in range(min(number, len(waiting[size])))
            ]
            if taken:
                bars.append(_bar(stock[use.bar], taken, saw))
    return tuple(bars), [piece for size in packing.sizes for piece in waiting[size]]


def _bar(stock: Stock, taken: list[Piece], saw: Saw) -> SawnBar:
    trim = saw.trim_of(stock)
    at = trim
    sawn = []
    for piece in taken:
        sawn.append(Sawn(piece.job, piece.part, at, at + piece.length_nm))
        at += piece.length_nm + saw.kerf_nm
    rest = max(0, stock.length_nm - trim - at)
    return SawnBar(stock, tuple(sawn), trim, rest, rest >= saw.least_useful_nm)


def cents_text(cents: int) -> str:
    """Print an amount of money with no currency.

    Args:
        cents: the amount, zero or more [cents].

    Returns:
        A text such as "42.50" [-].
    """
    return f"{cents // 100}.{cents % 100:02d}"


def percent_text(part: int, whole: int) -> str:
    """Print a share in per cent, rounded up to a hundredth.

    Args:
        part: the part [-].
        whole: the whole [-].

    Returns:
        A text such as "0.41 %"; "0.00 %" of nothing [%].
    """
    hundredths = -(-part * 10_000 // whole) if whole else 0
    return f"{hundredths // 100}.{hundredths % 100:02d} %"
