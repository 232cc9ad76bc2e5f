"""Openings at the edge of what a tape reads, and how words of a drawing are found again."""

import re
from copy import deepcopy
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

from fitcheck.drawings.measures import length_nm

SVG = "{http://www.w3.org/2000/svg}"
LETTER = 0.5  # of the size: a mean letter of the packet's face
Box = tuple[str, float, float, float, float]
Inputs = dict[str, Any]


def boxes(svg: str) -> list[Box]:
    """Every line of text with about the box it takes: words, left, top, right, bottom [pt]."""
    found = []
    for text in ElementTree.fromstring(svg).iter(f"{SVG}text"):  # noqa: S314  our own output
        words, size = "".join(text.itertext()), float(text.get("font-size") or 9)
        x, y, wide = (
            float(text.get("x") or 0),
            float(text.get("y") or 0),
            len(words) * size * LETTER,
        )
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[
            text.get("text-anchor") or "start"
        ]
        found.append((words, left, y - size * 0.7, left + wide, y + size * 0.1))
    return found


def overlaps(svg: str) -> list[tuple[str, str]]:
    """Pairs of words that lie over each other."""
    return [
        (a[0], b[0])
        for a, b in combinations(boxes(svg), 2)
        if a[1] < b[3] - 0.5 and b[1] < a[3] - 0.5 and a[2] < b[4] - 0.5 and b[2] < a[4] - 0.5
    ]


def outside(svg: str) -> list[str]:
    """Words that leave the paper."""
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    _, _, wide, high = map(float, (root.get("viewBox") or "0 0 0 0").split())
    return [w for w, x, y, right, low in boxes(svg) if x < 0 or y < 0 or right > wide or low > high]


def said(svg: str) -> str:
    """All words of a drawing, its description included, in one text."""
    words = " ".join(ElementTree.fromstring(svg).itertext())  # noqa: S314  our own output
    return " ".join(words.split())


def lengths_said(svg: str) -> set[str]:
    """Every length that the drawn words name, in either unit."""
    drawn = " | ".join(box[0] for box in boxes(svg))
    return set(re.findall(r"-?(?:\d+ )?\d+/\d+ in\b|-?\d+ in\b|-?\d+(?:\.\d+)? mm\b", drawn))


def reading(quantity: str, value: str, side: str = "none", height: str | None = None) -> Inputs:
    return {"quantity": quantity, "value": value, "side": side, "height": height, "over": "72 in"}


def extremes(inputs: Inputs) -> dict[str, Inputs]:
    """The same opening, very wide, very narrow, leaning, unread, with many studs."""
    kept = [r for r in inputs["readings"] if r["quantity"] != "width"]

    def with_widths(*widths: tuple[str, str]) -> Inputs:
        return {**inputs, "readings": kept + [reading("width", v, height=h) for h, v in widths]}

    leaning = with_widths(("0 in", "60 in"), ("72 in", "54 in"))
    leaning["readings"] = [
        {**r, "value": "3 in"} if r["quantity"] == "lean" else r for r in leaning["readings"]
    ]
    studs = [
        reading("backing_centre", f"{3 + i / 8} in".replace(".0 ", " ").replace(".125", " 1/8")
                .replace(".25", " 1/4").replace(".375", " 3/8").replace(".5", " 1/2")
                .replace(".625", " 5/8").replace(".75", " 3/4").replace(".875", " 7/8"),
                side, f"{12 * i} in")
        for i in range(7) for side in ("left", "right")
    ]  # fmt: skip
    return {
        "as read": inputs,
        "very wide": with_widths(
            ("0 in", "143 15/16 in"), ("36 in", "144 1/16 in"), ("72 in", "144 in")
        ),
        "very narrow": with_widths(
            ("0 mm", "381 mm"), ("1000 mm", "380 mm"), ("1900 mm", "379.5 mm")
        ),
        "leaning": leaning,
        "nothing read": {**inputs, "readings": [], "zones": []},
        "many studs": {**inputs, "readings": [*inputs["readings"], *studs]},
        "no opening": {},
    }


def twenty_holes(verdict: Inputs) -> Inputs:
    """A verdict whose left wall takes twenty kinds of holes."""
    one = next(f for f in verdict["fixings"] if f["surface"] == "left_wall")
    rows = []
    for i in range(20):
        row = deepcopy(one)
        row["height"], row["place"] = f"{4 + 4 * i} in", f"part {i + 1}"
        rows.append(row)
    return {**verdict, "fixings": rows}


def left_by_kit(inputs: dict[str, Any], verdict: dict[str, Any]) -> set[int]:
    """What the kit's own sizes leave of widths and ceilings as read, worked out here [nm]."""

    def read(quantity: str) -> list[int]:
        rows = [one["value"] for one in inputs["readings"] if one["quantity"] == quantity]
        return [nm for nm in map(length_nm, rows) if nm is not None]

    panels = verdict["panels"]
    glass = sum(length_nm(one["width"]) or 0 for one in panels)
    rail = length_nm(inputs["sheet"].get("rail_height"))
    top = rail or max(length_nm(one["height"]) or 0 for one in panels)
    widths, ceilings = read("width"), read("ceiling_height")
    left = {glass - wide for wide in widths} | {wide - glass for wide in widths}
    left |= {high - top for high in ceilings}
    hundredth = 10_000  # of a millimetre [nm]: what is longer than four decimals is cut to it
    return left | {one // hundredth * hundredth for one in left}
