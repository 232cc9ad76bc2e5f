"""What leaks most? Bars of cost, the dearest on top."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from html import escape
from typing import Any

WIDTH, NAME, ROW, TOP, SIDE = 760, 330, 26, 40, 130


def svg_losses(by: str, rows: Sequence[Mapping[str, Any]]) -> str:
    """Draw one bar for each sum: `label`, `cost`, `currency`, `count`."""
    height = TOP + ROW * max(len(rows), 1) + 12
    most = max((Decimal(one["cost"]) for one in rows), default=Decimal(0))
    told = "; ".join(f"{one['label']}: {_words(one)}" for one in rows)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        ' aria-labelledby="t d" font-family="sans-serif" font-size="13">',
        f'<title id="t">Costs of error by {escape(by)}</title>',
        f'<desc id="d">{escape(told or "Nothing is recorded.")}</desc>',
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
        f'<text x="8" y="22" font-weight="bold">Costs of error by {escape(by)}</text>',
    ]
    if not rows:
        parts.append(f'<text x="8" y="{TOP + 14}">Nothing is recorded.</text>')
    parts += [line for index, one in enumerate(rows) for line in _bar(index, one, most)]
    return "".join([*parts, "</svg>"])


def _words(one: Mapping[str, Any]) -> str:
    times = "once" if one["count"] == 1 else f"{one['count']} times"
    return f"{one['cost']} {one['currency']}, {times}"


def _bar(index: int, one: Mapping[str, Any], most: Decimal) -> list[str]:
    y, room = TOP + ROW * index, WIDTH - NAME - SIDE - 60
    length = max(3.0, room * float(Decimal(one["cost"]) / most)) if most else 3.0
    label = str(one["label"])
    short = label if len(label) <= 44 else label[:43] + "…"
    return [
        f'<text x="8" y="{y + 14}">{escape(short)}</text>',
        f'<rect x="{NAME}" y="{y + 3}" width="{length:.0f}" height="14" fill="#8a1c1c"/>',
        f'<text x="{NAME + length + 6:.0f}" y="{y + 14}">{escape(_words(one))}</text>',
    ]
