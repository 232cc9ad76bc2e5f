"""Where on its bar does each part of a week's saw plan lie, and what is left at the end?"""

from collections.abc import Mapping, Sequence
from typing import Any

from fitcheck.drawings.measures import length_mm, words
from fitcheck.drawings.svg import (
    DASHED,
    PAGE_WIDTH,
    SMALL,
    SOLID,
    frame,
    line,
    paragraph,
    rect,
    slanted,
    text,
)

LEFT, WIDE, DEEP = 4.0, PAGE_WIDTH - 8, 18.0
SAW = 'stroke="#000" stroke-width="1.8"'
Bar = Mapping[str, Any]


def svg_bars(bars: Sequence[Bar], title: str = "Bars of the saw plan") -> str:
    """Return every bar below the one before, all to one scale.

    Args:
        bars: bars as the rules told them, each with `number` and `profile` put in [mm].
        title: what the picture is called.
    """
    scale = WIDE / max([length_mm(bar["length"]) or 0.0 for bar in bars], default=1.0)
    parts: list[str] = []
    y = 14.0
    for bar in bars:
        drawn, y = _bar(bar, y, scale)
        parts += drawn
        y += 14
    if not bars:
        parts.append(text(LEFT, y, "No bar is sawn.", bold=True))
        y += 16
    said = " ".join(_said(bar) for bar in bars) or "No bar is sawn."
    return frame(PAGE_WIDTH, y, title, said, parts)


def _bar(bar: Bar, y: float, scale: float) -> tuple[list[str], float]:
    length = (length_mm(bar["length"]) or 0.0) * scale
    kind = "offcut" if bar["kind"] == "offcut" else "new bar"
    head = [
        text(LEFT, y, f"{bar['number']}. {bar['profile']}", size=11, bold=True),
        text(PAGE_WIDTH - 4, y, f"{kind}, {bar['bar']} · {words(bar['length'])}", anchor="end"),
    ]
    top = y + 7
    parts = [*head, rect(LEFT, top, length, DEEP, SOLID), *_trims(bar, top, scale, length)]
    for number, piece in enumerate(bar["pieces"], 1):
        parts += _piece(number, piece, top, scale)
    parts += _rest(bar, top, scale, length)
    told, below = _listed(bar, top + DEEP + 13)
    return [*parts, *told], below


def _trims(bar: Bar, top: float, scale: float, length: float) -> list[str]:
    trim = (length_mm(bar["trim_each_end"]) or 0.0) * scale
    if trim <= 0:
        return []
    return [slanted(LEFT, top, trim, DEEP, 3), slanted(LEFT + length - trim, top, trim, DEEP, 3)]


def _piece(number: int, piece: Mapping[str, Any], top: float, scale: float) -> list[str]:
    start = LEFT + (length_mm(piece["from"]) or 0.0) * scale
    end = LEFT + (length_mm(piece["to"]) or 0.0) * scale
    middle, low = (start + end) / 2, top + DEEP * 0.68
    label = f"{number} {piece['job']}" if end - start > 60 else str(number)
    return [
        rect(start, top, end - start, DEEP, SOLID),
        text(middle, low, label, anchor="middle", bold=True),
        line((end, top - 4), (end, top + DEEP + 4), SAW),
    ]


def _rest(bar: Bar, top: float, scale: float, length: float) -> list[str]:
    """What is left: dashed and named when it is kept, hatched when it is lost."""
    rest = (length_mm(bar["rest"]) or 0.0) * scale
    trim = (length_mm(bar["trim_each_end"]) or 0.0) * scale
    if rest <= 1:
        return []
    x = LEFT + length - trim - rest
    if not bar["offcut_kept"]:
        return [slanted(x, top, rest, DEEP, 5)]
    label = "keep" if rest < 90 else f"keep {bar['rest']['inch']}"
    kept = text(x + rest / 2, top + DEEP * 0.68, label, anchor="middle")
    return [rect(x + 2, top + 2, rest - 4, DEEP - 4, DASHED), kept]


def _listed(bar: Bar, y: float) -> tuple[list[str], float]:
    """Every cut in words below its bar, so that no figure depends on the drawing's scale."""
    lines = [
        f"{number}  {piece['job']} {piece['part']}: {words(piece['length'])}; "
        f"from {piece['from']} to {piece['to']}"
        for number, piece in enumerate(bar["pieces"], 1)
    ]
    lines.append(_left(bar))
    drawn: list[str] = []
    for one in lines:
        told, y = paragraph(LEFT, y, one, WIDE, size=SMALL)
        drawn += told
    return drawn, y


def _left(bar: Bar) -> str:
    rest = words(bar["rest"])
    if bar["offcut_kept"]:
        return f"Left over: {rest}, to the rack. Lost otherwise: {bar['lost']}."
    return f"Left over: {rest}, too short for the rack. Lost in all: {bar['lost']}."


def _said(bar: Bar) -> str:
    parts = ", ".join(f"{one['job']} {one['part']} {words(one['length'])}" for one in bar["pieces"])
    return f"Bar {bar['number']}, {bar['profile']}, {words(bar['length'])}: {parts}. {_left(bar)}"
