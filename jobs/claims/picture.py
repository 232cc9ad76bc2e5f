"""Which deadline runs out next? Bars of the days that are left, the shortest on top."""

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

WIDTH, NAME, ROW, TOP = 760, 330, 26, 40
SOON, LONG = 7, 60


def svg_deadlines(rows: Sequence[Mapping[str, Any]]) -> str:
    """Draw one bar for each deadline: `what`, `ends_on`, `left` [days], `who`."""
    height = TOP + ROW * max(len(rows), 1) + 12
    told = "; ".join(f"{one['what']} by {one['ends_on']}, {_left(one['left'])}" for one in rows)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        ' aria-labelledby="t d" font-family="sans-serif" font-size="13">',
        '<title id="t">Deadlines of open claims</title>',
        f'<desc id="d">{escape(told or "No deadline runs.")}</desc>',
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
        f'<text x="{NAME}" y="22" font-weight="bold">Days left (bars end at {LONG} days)</text>',
    ]
    if not rows:
        parts.append(f'<text x="8" y="{TOP + 14}">No deadline runs.</text>')
    parts += [line for index, one in enumerate(rows) for line in _bar(index, one)]
    return "".join([*parts, "</svg>"])


def _left(days: int) -> str:
    return f"{days} days left" if days >= 0 else f"run out {-days} days ago"


def _bar(index: int, one: Mapping[str, Any]) -> list[str]:
    y, left = TOP + ROW * index, int(one["left"])
    room = WIDTH - NAME - 200
    length = 4 if left < 0 else max(4, room * min(left, LONG) / LONG)
    fill = "#8a1c1c" if left < 0 else "#b85c00" if left <= SOON else "#1d5c4d"
    what = str(one["what"])
    short = what if len(what) <= 44 else what[:43] + "…"
    words = f"{_left(left)} · {one['ends_on']} · {one['who']}"
    return [
        f'<text x="8" y="{y + 14}">{escape(short)}</text>',
        f'<rect x="{NAME}" y="{y + 3}" width="{length:.0f}" height="14" fill="{fill}"/>',
        f'<text x="{NAME + length + 6:.0f}" y="{y + 14}">{escape(words)}</text>',
    ]
