"""How is a piece of a verdict said on paper, verbatim in its figures?"""

import json
import re
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from fitcheck.drawings import measures
from fitcheck.rules.quantity import lb_text, mass_parse
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say

Json = Mapping[str, Any]
Step = dict[str, Any]
NORTH_AMERICAN = re.compile(r"^\+1(\d{3})(\d{3})(\d{4})$")
DAYS = noted(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"))
MONTHS = noted(("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"))


def telephone(number: Any) -> str | None:
    """Return a telephone number as people read it: "+1 555 555 0130" of "+15555550130".

    Only the North American plan is taken apart, whose groups are always 3, 3 and 4 digits; any other
    number is printed as it stands, because where its country's code ends cannot be told from it.
    """
    if not number:
        return None
    return NORTH_AMERICAN.sub(r"+1 \1 \2 \3", str(number))


def words(value: Any) -> str:
    """Return what the service said about a value, its figures verbatim."""
    return told(measures.words(value))


def word(code: Any) -> str:
    """Return a code as words: `left_wall` reads "left wall"."""
    return told(measures.word(code))


def step(text: str, *, hold: str = "", record: str = "", caution: str = "") -> Step:
    """Return one step; `hold` names the hold point, and is empty for a step that is only done."""
    named = say("Hold: {what}", what=hold) if hold else ""
    said = f"{named}. {text}" if named else text
    return {"text": said, "hold": named, "rest": text, "record": record, "caution": caution}


def listed(parts: Iterable[str]) -> str:
    """Return parts as a list in a sentence: "a, b and c"."""
    items = [part for part in parts if part]
    if len(items) < 2:
        return "".join(items)
    return say("{some} and {last}", some=", ".join(items[:-1]), last=items[-1])


def local_time(moment: Any, zone: str) -> str:
    """Return a moment on the site's own clock: "Mon 30 Nov 2026, 08:00"; verbatim if it is none."""
    try:
        read = datetime.fromisoformat(str(moment))
        local = read.astimezone(ZoneInfo(zone)) if read.tzinfo else read
    except (ValueError, ZoneInfoNotFoundError):
        return str(moment)
    return f"{say(DAYS[local.weekday()])} {day_of(local)}, {local:%H:%M}"


def day_of(moment: datetime) -> str:
    """Return a date in words: "30 Nov 2026"."""
    return f"{moment:%d} {say(MONTHS[moment.month - 1])} {moment:%Y}"


def place_of(fixing: Json) -> str:
    """Return where a fixing goes, in words."""
    return say(
        "{place}, {surface} at {height}",
        place=told(str(fixing.get("place"))),
        surface=word(fixing.get("surface")),
        height=fixing.get("height"),
    )


def screw_of(fixing: Json) -> str:
    """Return the screw's size and length, or nothing."""
    size = screw_size(fixing)
    return say("screw {size}", size=size) if size else ""


def screw_size(fixing: Json) -> str:
    """Return the screw's number and length alone, or nothing."""
    screw = fixing.get("screw")
    if not screw:
        return ""
    return f"{screw.get('size')} × {screw.get('length') or say('length not known')}"


def hole_of(hole: Any) -> str:
    """Return a hole's diameter and what it goes through, or nothing."""
    if not hole:
        return ""
    through = hole.get("through") if isinstance(hole, Mapping) else None
    if not through:
        return words(hole)
    return say("{hole} through {layer}", hole=words(hole), layer=word(through))


def holes_in_order(fixing: Json) -> list[tuple[str, Any, bool]]:
    """Return the holes as they are drilled: name, hole, and whether the named bit drills it.

    The bit is named for the finish; a pilot in the framing behind comes after, with its own bit.
    """
    layers = fixing.get("build_up") or []
    finish = layers[0].get("layer") if layers else None
    holes = []
    for key, name in (("pilot", say("pilot")), ("final_hole", say("final hole"))):
        hole = fixing.get(key)
        if hole:
            through = hole.get("through") if isinstance(hole, Mapping) else None
            holes.append((name, hole, through in (None, finish)))
    return sorted(holes, key=lambda h: not h[2])


def _grouped(items: Iterable[Json], *apart: str) -> list[list[Json]]:
    groups: dict[str, list[Json]] = {}
    for item in items:
        rest = {k: v for k, v in item.items() if k not in apart}
        groups.setdefault(json.dumps(rest, sort_keys=True, default=str), []).append(item)
    return list(groups.values())


def findings_alike(findings: Iterable[Json]) -> list[Json]:
    """Return the findings with those that differ only in place set together, places listed."""
    return [
        {**group[0], "place": "; ".join(dict.fromkeys(told(str(f.get("place"))) for f in group))}
        for group in _grouped(findings, "place", "readings")
    ]


def alike(fixings: Iterable[Json]) -> list[Json]:
    """Return the fixings with those that differ only in height set together, heights listed."""
    return [
        {
            **group[0],
            "height": listed(dict.fromkeys(str(f.get("height")) for f in group)),
            "count": sum(int(f.get("count") or 1) for f in group),
        }
        for group in _grouped(fixings, "height", "count")
    ]


def holes_word(fixing: Json) -> str:
    """Return how many holes a fixing has, in words."""
    return holes_said(int(fixing.get("count") or 1))


def holes_said(count: int) -> str:
    """Return a number of holes in words."""
    return say("1 hole") if count == 1 else say("{n} holes", n=count)


def drilling(fixing: Json) -> str:
    """Return how one place is drilled; a place with an open question names no bit."""
    where = f"{place_of(fixing)}: {holes_word(fixing)}"
    if fixing.get("questions") or not fixing.get("bit"):
        stop = say("but STOP: a question is open, see the schedule. Do not drill here yet.")
        return f"{where}, {stop}"
    holes = [f"{name} {hole_of(hole)}" for name, hole, _ in holes_in_order(fixing)]
    anchor = told(str(fixing.get("anchor") or ""))
    rest = [told(str(fixing["bit"])), *holes, anchor, screw_of(fixing)]
    return f"{where}, {', '.join(part for part in rest if part)}."


def drill_lines(fixings: Iterable[Json]) -> str:
    """Return how each place is drilled, a line for each; the kit's sheet when none is known."""
    lines = [f"– {drilling(f)}" for f in alike(fixings)]
    return "\n".join([say("Drill:"), *lines]) if lines else say("Fix it as the kit's sheet says.")


def drilling_cautions(fixings: Iterable[Json]) -> str:
    """Return every caution of some fixings once, in their order."""
    said = [told(str(c)) for f in fixings for c in f.get("cautions") or []]
    asked = [
        say("QUESTION: {text}", text=told(str(q)))
        for f in fixings
        for q in f.get("questions") or []
    ]
    return " ".join(dict.fromkeys([*asked, *said]))


def fixings_at(verdict: Json, *names: str) -> list[Json]:
    """Return the fixings whose place names one of some words."""
    fixings = verdict.get("fixings") or []
    return [f for f in fixings if any(n in str(f.get("place")).lower() for n in names)]


def panel_words(panel: Json) -> str:
    """Return one panel's name, size and mass."""
    return f"{told(str(panel.get('name')))} ({panel_size(panel)}, {mass_of(panel)})"


def mass_of(panel: Json) -> str:
    """Return a panel's mass verbatim, with pounds beside it: "34.4 kg (75.9 lb)"."""
    mass = panel.get("mass")
    return f"{mass} ({lb_text(mass_parse(mass))})" if mass else say("mass not known")


def panel_size(panel: Json) -> str:
    """Return one panel's width, height and thickness."""
    return f"{panel.get('width')} × {panel.get('height')} × {panel.get('thickness')}"


def panels_in_order(verdict: Json) -> list[Json]:
    """Return the panels as they are hung."""
    return sorted(verdict.get("panels") or [], key=lambda p: p.get("order") or 0)


def state_of(item: Json) -> str:
    """Return a state, which is unknown when nobody has said it."""
    return str(item.get("state") or "unknown")


def source_of(item: Json) -> str:
    """Return who says so: the sheet's page, or document, edition, clause and status."""
    source = item.get("source") or {}
    if source.get("status") == "kit sheet" and source.get("page"):
        return say("kit sheet, page {page}", page=source["page"])
    parts = [str(source[k]) for k in ("document", "edition") if source.get(k)]
    if source.get("page"):
        parts.append(say("page {page}", page=source["page"]))
    if source.get("clause"):
        parts.append(told(str(source["clause"])))
    parts.append(told(str(source.get("status") or "source not named")))
    return " · ".join(dict.fromkeys(parts))


def handle_side(inputs: Json) -> str:
    """Return the side that handles go on, or that nobody knows."""
    side = (inputs.get("opening") or {}).get("shower_head_side")
    if side == "left":
        return say("the left, the shower-head side")
    if side == "right":
        return say("the right, the shower-head side")
    return say("the shower-head side (QUESTION: which side is it? Ask before a handle goes on)")
