"""Where on its stock bar does each cut lie, and how much is waste?"""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings.measures import length_mm, words
from fitcheck.drawings.svg import (
    DASHED,
    PAGE_WIDTH,
    SMALL,
    SOLID,
    dimension,
    frame,
    line,
    rect,
    slanted,
    text,
)

BAR, DEEP = PAGE_WIDTH - 8, 15.0
ENDS = {
    "left": "saw at the left end",
    "right": "saw at the right end",
    "both": "saw at both ends",
    "either": "saw at either end",
}


def svg_cut_bars(verdict_json: Mapping[str, Any]) -> str:
    """Return every cut on its stock bar, all bars to one scale, waste hatched."""
    cuts = verdict_json.get("cuts") or []
    longest = max([_longest(cut) for cut in cuts], default=0.0)
    parts: list[str] = []
    y = 14.0
    for cut in cuts:
        parts += _cut(cut, y, BAR / longest if longest else 0.0)
        y += 62
    if not cuts:
        parts.append(text(4, y, "No part of this kit is cut on site.", bold=True))
        y += 16
    said = " ".join(_said(cut) for cut in cuts) or "There is no cut."
    return frame(PAGE_WIDTH, y, "Cuts on their stock", said, parts)


def _longest(cut: Mapping[str, Any]) -> float:
    return max(length_mm(cut.get("stock")) or 0.0, length_mm(cut.get("length")) or 0.0)


def _said(cut: Mapping[str, Any]) -> str:
    return (
        f"{cut.get('part')}: {words(cut.get('length'))} from stock {words(cut.get('stock'))}, "
        f"waste {words(cut.get('waste'))}, {cut.get('status', 'predicted')}."
    )


def _cut(cut: Mapping[str, Any], y: float, scale: float) -> list[str]:
    length, stock = length_mm(cut.get("length")), length_mm(cut.get("stock"))
    end = ENDS.get(str(cut.get("end")), ENDS["either"])
    count = cut.get("count") or 1
    times = f"{count} × " if count != 1 else ""
    head = [
        text(4, y, f"{times}{cut.get('part')}", size=11, bold=True),
        text(PAGE_WIDTH - 4, y, f"stock {words(cut.get('stock'))} · {end}", anchor="end"),
    ]
    top = y + 6
    if length is None:
        dashed = rect(4, top, BAR, DEEP, DASHED)
        missing = "length not known: a reading it needs is missing"
        return [*head, dashed, text(PAGE_WIDTH / 2, top + 11, missing, anchor="middle", bold=True)]
    if stock is not None and length > stock:
        return [*head, *_too_long(cut, top, length * scale, stock * scale)]
    return [*head, *_kept(cut, top, length * scale, (stock or length) * scale)]


def _kept(cut: Mapping[str, Any], top: float, length: float, stock: float) -> list[str]:
    waste = stock - length
    before = {"left": waste, "both": waste / 2}.get(str(cut.get("end")), 0.0)
    x = 4 + before
    parts = [rect(x, top, length, DEEP, SOLID)]
    if before > 0:
        parts += [slanted(4, top, before, DEEP, 4), _saw(x, top)]
    if waste - before > 0:
        parts += [slanted(x + length, top, waste - before, DEEP, 4), _saw(x + length, top)]
    label = f"{words(cut.get('length'))} (rounded {rounded(cut.get('length'))})"
    below = f"waste {words(cut.get('waste'))}"
    return [
        *parts,
        dimension(x, x + length, top + DEEP + 9, label),
        text(PAGE_WIDTH - 4, top + DEEP + 22, below, anchor="end", size=SMALL),
    ]


def _too_long(cut: Mapping[str, Any], top: float, length: float, stock: float) -> list[str]:
    words_of = f"needs {words(cut.get('length'))}: the stock is too short. Do not cut."
    return [
        rect(4, top, stock, DEEP, SOLID),
        rect(4 + stock, top, length - stock, DEEP, DASHED),
        text(8, top + 11, words_of, bold=True),
    ]


def _saw(x: float, top: float) -> str:
    return line((x, top - 4), (x, top + DEEP + 4), 'stroke="#000" stroke-width="1.8"')


def rounded(value: Any) -> str:
    """Return which way a computed length was rounded."""
    return str(value.get("rounded", "down")) if isinstance(value, Mapping) else "down"
