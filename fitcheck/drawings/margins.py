"""How far is each reading from its limit: one bar per finding, the state as word and shape."""

from collections.abc import Mapping
from typing import Any

from fitcheck.drawings.measures import length_mm, words
from fitcheck.drawings.svg import (
    FINE,
    INK,
    PAGE_WIDTH,
    SOLID,
    arrow,
    circle,
    frame,
    line,
    paragraph,
    polygon,
    rect,
    slanted,
    text,
)

STATES = {"fits": "fits", "tight": "tight", "fails": "fails", "unknown": "unknown"}
BAR_WIDTH, BAR_HEIGHT, SLIM_HEIGHT = 176.0, 34.0, 18.0
POINTS_PER_MM = 2.4  # the same in every bar, so that margins can be compared by eye
QUESTION, BAR_AT, STATE_AT = (
    190.0,
    226.0,
    408.0,
)  # pt; wraps early for wide faces
INSET = 40.0  # from the bar's end to the limit's stroke: room to draw a failure


def svg_margins(verdict_json: Mapping[str, Any]) -> str:
    """Return every finding as one row: the question, the bar, the state."""
    findings = verdict_json.get("findings") or []
    parts: list[str] = []
    y = 16.0
    for finding in findings:
        row, y = _row(finding, y)
        parts += row
    if not findings:
        parts.append(text(4, y, "No finding yet: nothing has been compared.", bold=True))
        y += 14
    note = "Every bar has one scale. Hatched: guard band, a margin inside it is tight."
    parts.append(text(4, y + 4, note))
    said = [
        f"{f.get('question')} {state_word(f)}, margin {words(f.get('margin'))}." for f in findings
    ]
    state = STATES.get(str(verdict_json.get("state")), "unknown")
    desc = " ".join(said) or "Nothing has been compared yet."
    return frame(PAGE_WIDTH, y + 12, f"Margins: {state}", desc, parts)


def svg_margin(finding: Mapping[str, Any], *, slim: bool = False) -> str:
    """Return the bar of one finding alone for a table's cell; slim, its figures stand beside it."""
    desc = f"{state_word(finding)}, margin {words(finding.get('margin'))}"
    title = str(finding.get("question") or "Margin")
    if slim:
        return frame(BAR_WIDTH, SLIM_HEIGHT, title, desc, _axis(finding, 0, 0) or [])
    return frame(BAR_WIDTH, BAR_HEIGHT, title, desc, _bar(finding, 0, 0))


def svg_state(state: str) -> str:
    """Return the shape that stands for a state, alone."""
    return frame(14, 14, STATES.get(state, "unknown"), "State of a finding", _shape(state, 7, 7))


def state_word(finding: Mapping[str, Any]) -> str:
    """Return the state of a finding as a word."""
    return STATES.get(str(finding.get("state")), "unknown")


def _row(finding: Mapping[str, Any], y: float) -> tuple[list[str], float]:
    question, after = paragraph(4, y, finding.get("question") or "?", QUESTION)
    state = str(finding.get("state"))
    shape = _shape(state, STATE_AT + 8, y - 1)
    word = [*shape, text(STATE_AT + 20, y + 2, state_word(finding), size=10, bold=True)]
    if finding.get("margin"):
        word.append(text(STATE_AT, y + 17, f"margin {words_short(finding['margin'])}"))
    bar = _bar(finding, BAR_AT, y - 11)
    bottom = max(after, y + BAR_HEIGHT - 8, _words_end(finding, y - 11))
    rule = line((4, bottom - 4), (PAGE_WIDTH - 4, bottom - 4), FINE)
    return [*question, *bar, *word, rule], bottom + 10


def _bar(finding: Mapping[str, Any], x: float, y: float) -> list[str]:
    axis = _axis(finding, x, y)
    if axis is None:
        return _no_bar(finding, x, y)
    label = f"{finding['sense']} {words_short(finding.get('limit'))}"
    read = f"read {words_short(finding.get('reading'))}"
    left, right = (label, read) if finding["sense"] == "least" else (read, label)
    return [*axis, text(x + 1, y + 28, left), text(x + BAR_WIDTH - 1, y + 28, right, anchor="end")]


def _axis(finding: Mapping[str, Any], x: float, y: float) -> list[str] | None:
    margin = length_mm(finding.get("margin"))
    sense = finding.get("sense")
    if margin is None or sense not in ("least", "most"):
        return None
    way = 1 if sense == "least" else -1  # which side of the limit is the good one
    limit = x + INSET if way > 0 else x + BAR_WIDTH - INSET
    far = x + BAR_WIDTH - 2 if way > 0 else x + 2
    axis = y + 9
    parts = [rect(min(limit, far), axis - 4, abs(far - limit), 8, FINE)]
    parts += _guard(finding, limit, axis, way)
    parts += [line((limit, axis - 8), (limit, axis + 8), SOLID)]
    parts += _measured(limit + way * margin * POINTS_PER_MM, x, axis)
    return parts


def _guard(finding: Mapping[str, Any], limit: float, axis: float, way: int) -> list[str]:
    band = length_mm(finding.get("guard_band"))
    if not band:
        return []
    wide = min(band * POINTS_PER_MM, BAR_WIDTH - INSET - 2)
    return [slanted(limit if way > 0 else limit - wide, axis - 4, wide, 8, 3)]


def _measured(at: float, x: float, axis: float) -> list[str]:
    low, high = x + 6, x + BAR_WIDTH - 6
    if low <= at <= high:
        return [
            polygon(
                [(at, axis - 6), (at + 4, axis), (at, axis + 6), (at - 4, axis)], f'fill="{INK}"'
            )
        ]
    edge, towards = (high + 5, 1) if at > high else (low - 5, -1)
    return [line((edge - towards * 14, axis), (edge, axis), SOLID), arrow((edge, axis), towards)]


def _no_bar(finding: Mapping[str, Any], x: float, y: float) -> list[str]:
    return paragraph(x + 1, y + 9, _compared(finding), BAR_WIDTH - 14)[0]


def _words_end(finding: Mapping[str, Any], y: float) -> float:
    """Return how low a row's words reach when it has no bar."""
    if _axis(finding, 0, y) is not None:
        return y
    return paragraph(0, y + 9, _compared(finding), BAR_WIDTH - 14)[1] + 4


def _compared(finding: Mapping[str, Any]) -> str:
    read = words_short(finding.get("reading"))
    return f"read: {read}; asked: {words_short(finding.get('limit'))}"


def words_short(value: Any) -> str:
    """Return one unit of a value, inches first, for a label that has no room for two."""
    if isinstance(value, Mapping):
        return str(value.get("text") or value.get("inch") or value.get("mm") or "not known")
    return "not known" if value in (None, "") else str(value)


def _shape(state: str, x: float, y: float) -> list[str]:
    if state == "fits":
        tick = line((x - 3, y), (x - 1, y + 3), SOLID) + line((x - 1, y + 3), (x + 3, y - 3), SOLID)
        return [circle(x, y, 6, SOLID), tick]
    if state == "tight":
        return [
            polygon([(x, y - 6), (x + 6.5, y + 5), (x - 6.5, y + 5)], SOLID),
            text(x, y + 4, "!", anchor="middle", bold=True),
        ]
    if state == "fails":
        cross = [
            line((x - 3, y - 3), (x + 3, y + 3), 'stroke="#fff" stroke-width="1.8"'),
            line((x - 3, y + 3), (x + 3, y - 3), 'stroke="#fff" stroke-width="1.8"'),
        ]
        return [rect(x - 6, y - 6, 12, 12, f'fill="{INK}"'), *cross]
    dashes = f'stroke="{INK}" stroke-width="1" stroke-dasharray="2 1.5" fill="none"'
    return [rect(x - 6, y - 6, 12, 12, dashes), text(x, y + 3.4, "?", anchor="middle", bold=True)]
