"""What leaks most, and what did the guards stop? Bars of cost, the dearest on top; bars of how often."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from html import escape
from typing import Any

WIDTH, NAME, ROW, TOP, SIDE = 940, 480, 26, 40, 200
LETTERS = 74  # of a label, what its column holds
LEAKS, SAVED = "#8a1c1c", "#14532d"
Rows = Sequence[Mapping[str, Any]]


def svg_losses(by: str, rows: Rows, saves: Rows = ()) -> str:
    """Draw one bar for each sum and save.

    Args:
        rows: sums with `label`, `cost`, `currency`, `count`, `missing` [-].
        saves: with `says` and `count` [-].
    """
    second = TOP + ROW * max(len(rows), 1) + 12
    height = second + TOP + ROW * max(len(saves), 1) + 12
    told = "; ".join(f"{one['label']}: {_money(one)}" for one in rows)
    kept = "; ".join(f"{one['says']}: {_times(one)}" for one in saves)
    leaks = [(str(one["label"]), Decimal(one["cost"]), _money(one)) for one in rows]
    stopped = [(str(one["says"]), Decimal(one["count"]), _times(one)) for one in saves]
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
            ' aria-labelledby="t d" font-family="sans-serif" font-size="13">',
            f'<title id="t">Costs of error by {escape(by)}, and what the guards saved</title>',
            f'<desc id="d">{escape(told or "Nothing is recorded.")}'
            f" Saved: {escape(kept or 'nothing')}</desc>",
            f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
            *_bars(f"Costs of error by {by}", leaks, 0, LEAKS),
            *_bars("What the guards saved", stopped, second, SAVED),
            "</svg>",
        ]
    )


def _money(one: Mapping[str, Any]) -> str:
    missing = f" (cost missing: {one['missing']})" if one.get("missing") else ""
    return f"{one['cost']} {one['currency']}, {_times(one)}{missing}"


def _times(one: Mapping[str, Any]) -> str:
    return "once" if one["count"] == 1 else f"{one['count']} times"


def _bars(title: str, rows: Sequence[tuple[str, Decimal, str]], y: int, fill: str) -> list[str]:
    parts = [f'<text x="8" y="{y + 22}" font-weight="bold">{escape(title)}</text>']
    if not rows:
        parts.append(f'<text x="8" y="{y + TOP + 14}">Nothing is recorded.</text>')
    most = max((value for _, value, _ in rows), default=Decimal(0))
    for index, (label, value, words) in enumerate(rows):
        parts += _bar(y + TOP + ROW * index, label, value, most, words, fill)
    return parts


def _bar(y: int, label: str, value: Decimal, most: Decimal, words: str, fill: str) -> list[str]:
    room = WIDTH - NAME - SIDE - 60
    length = max(3.0, room * float(value / most)) if value else 0.0
    short = label if len(label) <= LETTERS else label[: LETTERS - 1] + "…"
    bar = f'<rect x="{NAME}" y="{y + 3}" width="{length:.0f}" height="14" fill="{fill}"/>'
    return [
        f'<text x="8" y="{y + 14}">{escape(short)}</text>',
        *([bar] if value else []),
        f'<text x="{NAME + length + 6 * bool(value):.0f}" y="{y + 14}">{escape(words)}</text>',
    ]
