"""What goes into the van for this packet, counted from the verdicts?"""

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from typing import Any

from fitcheck.drawings.measures import word, words
from jobs.packets.paper.phrases import Json, holes_in_order, panel_words, screw_of

Rows = list[dict[str, str]]


def load_list(verdicts: Iterable[Json], people: int) -> dict[str, Rows]:
    """Return tools, bits, parts and consumables as rows of count and what."""
    known = list(verdicts)
    fixings = [f for v in known for f in v.get("fixings") or []]
    return {
        "tools": _tools(known, fixings, people),
        "bits": _counted(_bits(fixings), "hole", "holes"),
        "parts": _parts(known, fixings),
        "consumables": _consumables(known),
    }


def _row(count: object, what: str) -> dict[str, str]:
    return {"count": str(count), "what": what}


def _tools(verdicts: list[Json], fixings: list[Json], people: int) -> Rows:
    rows = [
        _row(people, "eye protection, cut-resistant gloves, closed shoes: a set for each"),
        _row(2, "tapes, one for each reader"),
        _row(1, "level, long enough for the opening"),
        _row(1, "finder for studs, pipes and cables"),
        _row(1, "drill and driver, hammer action off for tile"),
        _row(1, "sealant gun and tooling stick"),
        _row(1, "tablet or camera for the hold points"),
    ]
    if any(v.get("cuts") for v in verdicts):
        rows += [_row(1, "fine-tooth saw with stop, clamps, file"), _row(2, "hearing protection")]
    if any(f.get("cooling") for f in fixings):
        rows.append(_row(1, "water for the bit, or extraction at the bit"))
    return rows


def _bits(fixings: list[Json]) -> Counter[str]:
    holes: Counter[str] = Counter()
    for fixing in fixings:
        if not fixing.get("bit"):
            continue
        for _, hole, named in holes_in_order(fixing):
            bit = fixing["bit"] if named else f"bit for {word(hole.get('through'))}"
            holes[f"{bit} {words(hole)}"] += int(fixing.get("count") or 1)
    return holes


def _counted(counter: Counter[str], one: str, many: str) -> Rows:
    return [_row("1", f"{what} ({n} {one if n == 1 else many})") for what, n in counter.items()]


def _parts(verdicts: list[Json], fixings: list[Json]) -> Rows:
    rows = [_row(1, f"panel {panel_words(p)}") for v in verdicts for p in v.get("panels") or []]
    rows += [
        _row(c.get("count") or 1, f"{c.get('part')}, stock {words(c.get('stock'))}")
        for v in verdicts
        for c in v.get("cuts") or []
    ]
    small: Counter[str] = Counter()
    for fixing in fixings:
        for what in (str(fixing.get("anchor") or ""), screw_of(fixing)):
            if what:
                small[what] += int(fixing.get("count") or 1)
    return rows + [_row(n, what) for what, n in small.items()]


def _consumables(verdicts: list[Json]) -> Rows:
    runs = [s for v in verdicts for s in v.get("sealant") or []]
    rows = []
    if runs:
        rows.append(_row(total_ml(runs), f"sealant for {len(runs)} runs, before waste"))
    return [
        *rows,
        _row(1, "floor cover, drain tape, soft rests, corner guards"),
        _row(1, "masking tape, marker, cloths, cleaner that the sealant's maker allows"),
        _row(1, "cure notice for the door"),
    ]


def total_ml(runs: Iterable[Json]) -> str:
    """Return the sealant of all runs added up exactly, or "?" when one is not known [mL]."""
    total = Decimal(0)
    for run in runs:
        volume: Any = run.get("volume_ml")
        try:
            total += Decimal(str(volume).removesuffix("mL").strip())
        except InvalidOperation:
            return "? mL"
    return f"{total} mL"
