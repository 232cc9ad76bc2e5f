"""Which crew is where on which day: a calendar strip of one week."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from fitcheck.drawings.svg import DASHED, FINE, SOLID, frame, line, lines_of, rect, text

STRIP_WIDTH = 760.0  # a span of hours in bold fits into a day
CREW_COLUMN = 78.0
LINE = 11.0
SHOWN_LINES = 4  # of a visit's label; the rest is in the description


def svg_week(title: str, days: Sequence[str], rows: Sequence[Mapping[str, Any]]) -> str:
    """Return crews as rows, days as columns and visits as boxes with words.

    Days are ISO dates, a visit's start and end ISO local times; a visit that is only `held` has a
    broken line, `drive` says how the crew gets to it. A row's `days` says what a day is beside its
    visits: closed, or short of people.
    """
    column = (STRIP_WIDTH - CREW_COLUMN - 4) / max(1, len(days))
    parts = [text(4, 14, title, size=12, bold=True), *_heads(days, column)]
    y = 38.0
    for row in rows:
        boxes, bottom = _crew(row, days, column, y)
        parts += [line((4, y), (STRIP_WIDTH, y), FINE), *boxes]
        y = bottom
    if not rows:
        parts.append(text(4, y + 14, "No crew is on this strip.", bold=True))
        y += 22
    parts += [line((4, y), (STRIP_WIDTH, y), FINE)]
    edges = [CREW_COLUMN + i * column for i in range(len(days) + 1)]
    parts += [line((x, 26), (x, y), FINE) for x in edges]
    return frame(STRIP_WIDTH, y + 4, title, _described(rows), parts)


def _heads(days: Sequence[str], column: float) -> list[str]:
    return [
        text(CREW_COLUMN + (i + 0.5) * column, 34, _day(day), anchor="middle", bold=True)
        for i, day in enumerate(days)
    ]


def _day(day: str) -> str:
    try:
        return date.fromisoformat(day).strftime("%a %d %b")
    except ValueError:
        return day


def _crew(
    row: Mapping[str, Any], days: Sequence[str], column: float, y: float
) -> tuple[list[str], float]:
    names = lines_of(row.get("crew") or "no crew named", CREW_COLUMN - 6)
    parts = [text(4, y + 13 + i * LINE, n, bold=True) for i, n in enumerate(names)]
    bottom = y + 14 + len(names) * LINE
    for i, day in enumerate(days):
        top = y + 3
        for words in lines_of((row.get("days") or {}).get(day, ""), column - 8):
            parts.append(text(CREW_COLUMN + i * column + 5, top + 9, words))
            top += LINE
        for visit in _on(row, day):
            box, top = _visit(visit, day, CREW_COLUMN + i * column + 2, top, column - 4)
            parts += box
        bottom = max(bottom, top + 1)
    return parts, bottom


def _on(row: Mapping[str, Any], day: str) -> list[Mapping[str, Any]]:
    visits = [
        v
        for v in row.get("visits") or []
        if str(v.get("start"))[:10] <= day <= str(v.get("end") or v.get("start"))[:10]
    ]
    return sorted(visits, key=lambda v: str(v.get("start")))


def _visit(
    visit: Mapping[str, Any], day: str, x: float, y: float, width: float
) -> tuple[list[str], float]:
    lines = lines_of(visit.get("label") or "no label", width - 6)
    if len(lines) > SHOWN_LINES:
        lines = [*lines[: SHOWN_LINES - 1], lines[SHOWN_LINES - 1][:-1] + "…"]
    height = (len(lines) + 1) * LINE + 5
    parts = []
    if visit.get("drive") and str(visit.get("start"))[:10] == day:
        parts.append(text(x + 3, y + 9, f"↓ {visit['drive']}"))
        y += LINE + 2
    edge = DASHED if visit.get("held") else SOLID
    parts += [rect(x, y, width, height, edge), text(x + 3, y + 10, _hours(visit, day), bold=True)]
    parts += [text(x + 3, y + 10 + (i + 1) * LINE, words) for i, words in enumerate(lines)]
    return parts, y + height + 3


def _hours(visit: Mapping[str, Any], day: str) -> str:
    start, end = str(visit.get("start")), str(visit.get("end") or "")
    begins = start[11:16] if start[:10] == day else "…"
    ends = end[11:16] if end[:10] == day else "…"
    return f"{begins}–{ends}"


def _described(rows: Sequence[Mapping[str, Any]]) -> str:
    said = [
        f"{row.get('crew')}: {visit.get('start')} to {visit.get('end')}, {visit.get('label')}."
        for row in rows
        for visit in row.get("visits") or []
    ]
    return " ".join(said) or "No visit is planned."
