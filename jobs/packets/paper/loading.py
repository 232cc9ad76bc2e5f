"""What goes into the van for this packet, counted from the verdicts?"""

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from typing import Any

from jobs.packets.paper.phrases import (
    Json,
    holes_in_order,
    holes_said,
    panel_words,
    screw_of,
    word,
    words,
)
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say

Rows = list[dict[str, str]]
Load = dict[str, Rows]


def load_list(verdicts: Iterable[Json], people: int) -> Load:
    """Return what an install takes: tools, bits, parts and consumables as rows of count and what."""
    known = list(verdicts)
    fixings = [f for v in known for f in v.get("fixings") or []]
    return {
        "tools": _tools(known, fixings, people),
        "bits": _bit_rows(_bits(fixings)),
        "parts": parts_of(known),
        "consumables": _consumables(known),
    }


def load_for(kind: str, verdicts: list[Json], people: int) -> Load:
    """Return what a visit of this kind takes."""
    if kind == "install":
        return load_list(verdicts, people)
    tools = {"survey": _survey_tools, "follow_up": _follow_up_tools}.get(kind)
    rows = tools(people) if tools else []
    return {"tools": rows, "bits": [], "parts": [], "consumables": _extras(kind)}


def row(count: object, what: str) -> dict[str, str]:
    """Return one row of a list that is counted."""
    return {"count": str(count), "what": what}


def _survey_tools(people: int) -> Rows:
    return [
        row(people, say("eye protection, closed shoes: a set for each")),
        row(2, say("tapes, one for each reader, or a tape and a laser")),
        row(1, say("level as long as the opening is high, or a laser line")),
        row(1, say("finder for studs, pipes and cables")),
        row(1, say("square, step, torch, masking tape and marker")),
        row(1, say("tablet or camera")),
    ]


def _follow_up_tools(people: int) -> Rows:
    return [
        row(people, say("eye protection, cut-resistant gloves, closed shoes: a set for each")),
        row(1, say("level, tape, hex keys and drivers that the kit takes")),
        row(1, say("torch and dry paper towels for the leak test")),
        row(1, say("sealant gun and tooling stick")),
        row(1, say("tablet or camera")),
    ]


def _extras(kind: str) -> Rows:
    if kind != "follow_up":
        return []
    return [
        row(1, say("sealant of the kind used, blade and cleaner that its maker allows")),
        row(1, say("spare gaskets, bushings and seals of this kit")),
    ]


def _tools(verdicts: list[Json], fixings: list[Json], people: int) -> Rows:
    rows = [
        row(people, say("eye protection, cut-resistant gloves, closed shoes: a set for each")),
        row(2, say("tapes, one for each reader")),
        row(1, say("level, long enough for the opening")),
        row(1, say("finder for studs, pipes and cables")),
        row(1, say("drill and driver, hammer action off for tile")),
        row(1, say("sealant gun and tooling stick")),
        row(1, say("tablet or camera for the hold points")),
    ]
    if any(v.get("cuts") for v in verdicts):
        rows += [
            row(1, say("fine-tooth saw with stop, clamps, file")),
            row(2, say("hearing protection")),
        ]
    if any(f.get("cooling") for f in fixings):
        rows.append(row(1, say("water for the bit, or extraction at the bit")))
    return rows


def _bits(fixings: list[Json]) -> Counter[str]:
    holes: Counter[str] = Counter()
    for fixing in fixings:
        if not fixing.get("bit"):
            continue
        for _, hole, named in holes_in_order(fixing):
            bit = told(str(fixing["bit"]))
            if not named:
                bit = say("bit for {layer}", layer=word(hole.get("through")))
            holes[f"{bit} {words(hole)}"] += int(fixing.get("count") or 1)
    return holes


def _bit_rows(bits: Counter[str]) -> Rows:
    return [row("1", f"{what} ({holes_said(n)})") for what, n in bits.items()]


def parts_of(verdicts: list[Json]) -> Rows:
    """Return the panels, the parts cut on site and the small parts, counted."""
    rows = [
        row(1, say("panel {panel}", panel=panel_words(p)))
        for v in verdicts
        for p in v.get("panels") or []
    ]
    rows += [
        row(
            c.get("count") or 1,
            say(
                "{part}, stock {stock}", part=told(str(c.get("part"))), stock=words(c.get("stock"))
            ),
        )
        for v in verdicts
        for c in v.get("cuts") or []
    ]
    return rows + [row(n, what) for what, n in small_parts(verdicts).items()]


def small_parts(verdicts: list[Json]) -> Counter[str]:
    """Return anchors and screws of all fixings, counted."""
    small: Counter[str] = Counter()
    for fixing in (f for v in verdicts for f in v.get("fixings") or []):
        for what in (told(str(fixing.get("anchor") or "")), screw_of(fixing)):
            if what:
                small[what] += int(fixing.get("count") or 1)
    return small


def _consumables(verdicts: list[Json]) -> Rows:
    runs = [s for v in verdicts for s in v.get("sealant") or []]
    rows = []
    if runs:
        many = say("sealant for {n} runs, before waste", n=len(runs))
        one = say("sealant for 1 run, before waste")
        rows.append(row(total_ml(runs), one if len(runs) == 1 else many))
    return [
        *rows,
        row(1, say("floor cover, drain tape, soft rests, corner guards")),
        row(1, say("masking tape, marker, cloths, cleaner that the sealant's maker allows")),
        row(1, say("cure notice for the door")),
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
