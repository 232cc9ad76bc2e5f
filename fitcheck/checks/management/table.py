"""How does a verdict look in a terminal? As plain tables no wider than the window."""

import textwrap
from collections.abc import Iterable
from typing import Any

from fitcheck.checks.desk_deep import holder
from fitcheck.rules.sealing_told import hours_told

GAP = "  "
NARROWEST = 60


class Page:
    """Lines of one width, headings and tables."""

    def __init__(self, width: int) -> None:
        self.width = max(width, NARROWEST)
        self.lines: list[str] = []

    def text(self, text: str, indent: str = "") -> None:
        """Add a paragraph, wrapped."""
        self.lines += textwrap.wrap(text, self.width, subsequent_indent=indent) or [""]

    def table(self, heading: str, names: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> None:
        """Add a table under a heading, its columns as wide as they need; nothing when it is empty."""
        found = list(rows)
        if not found:
            return
        widths = self._widths(names, found)
        self.lines += ["", heading.upper(), self._rule(widths)]
        self._row(names, widths)
        self.lines.append(self._rule(widths))
        for row in found:
            self._row(row, widths)

    def listing(self, heading: str, items: Iterable[str]) -> None:
        """Add a list under a heading; nothing when it is empty."""
        found = list(items)
        if found:
            self.lines += ["", heading.upper()]
            for item in found:
                self.text(f"- {item}", "  ")

    def _widths(self, names: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[int]:
        """Give each column its longest text, then take from the widest until the row fits."""
        widths = [max(map(len, column)) for column in zip(names, *rows, strict=True)]
        room = self.width - len(GAP) * (len(names) - 1)
        while sum(widths) > room and max(widths) > 1:
            widths[widths.index(max(widths))] -= 1
        return widths

    def _rule(self, widths: list[int]) -> str:
        return "-" * (sum(widths) + len(GAP) * (len(widths) - 1))

    def _row(self, cells: tuple[str, ...], widths: list[int]) -> None:
        wrapped = [
            textwrap.wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)
        ]
        for index in range(max(map(len, wrapped))):
            line = [
                (cell[index] if index < len(cell) else "").ljust(width)
                for cell, width in zip(wrapped, widths, strict=True)
            ]
            self.lines.append(GAP.join(line).rstrip())


def verdict_page(verdict: dict[str, Any], width: int) -> str:
    """Lay a verdict out: what it says, what speaks against it, what to cut, drill, lift and mind.

    Args:
        verdict: the verdict as plain JSON.
        width: the window's width [characters].
    """
    page = Page(width)
    size = f", size {verdict['size']}" if verdict["size"] else ""
    page.text(f"{verdict['state'].upper()}{size}: {verdict['summary']}")
    hours = hours_told(verdict)
    cure = f"; {hours} h of cure" if hours else ""
    page.text(
        f"Hands needed: {verdict['hands_needed']}{cure}. Rules version {verdict['rules_version']}."
    )
    _findings(page, verdict)
    _work(page, verdict)
    page.listing("Questions", (f"{q['about']}: {q['text']}" for q in verdict["questions"]))
    page.listing("Cautions", (f"{c['where']}: {c['text']}" for c in verdict["cautions"]))
    return "\n".join(page.lines)


def _findings(page: Page, verdict: dict[str, Any]) -> None:
    sources = list(dict.fromkeys(source_text(one["source"]) for one in verdict["findings"]))
    page.table(
        "Findings",
        ("state", "question and place", "reading", "limit", "margin", "±", "source"),
        (_finding(one, sources) for one in verdict["findings"]),
    )
    page.listing("Sources", (f"[{n}] {text}" for n, text in enumerate(sources, 1)))
    asked = [one for one in verdict["findings"] if one["state"] != "fits"]
    page.listing("To do", (f"{one['place']}: {one['do']}" for one in asked))
    page.table(
        "Readings still missing",
        ("reading", "side", "height", "why"),
        ((m["quantity"], m["side"], m["height"] or "-", m["why"]) for m in verdict["missing"]),
    )
    page.listing(
        "Readings that disagree",
        (f"{d['quantity']} {d['height'] or ''}: {d['do']}" for d in verdict["disagreements"]),
    )


def _finding(one: dict[str, Any], sources: list[str]) -> tuple[str, ...]:
    return (
        one["state"],
        f"{one['question']} ({one['place']})",
        shown(one["reading"]),
        shown(one["limit"]),
        shown(one["margin"]),
        one["uncertainty"] or "-",
        f"[{sources.index(source_text(one['source'])) + 1}] {place_text(one['source'])}".rstrip(),
    )


def _work(page: Page, verdict: dict[str, Any]) -> None:
    page.table(
        "Cuts (predicted: measure again when the parts are fixed)",
        ("part", "from", "less", "cut", "±", "stock", "state"),
        (_cut(one) for one in verdict["cuts"]),
    )
    page.table(
        "Fastener schedule",
        ("place", "wall", "height", "count", "bit", "pilot", "hole", "anchor, screw", "state"),
        (_fixing(one) for one in verdict["fixings"]),
    )
    page.table(
        "What each fixing bears and holds",
        ("place", "wall", "height", "worst case", "used", "by, or why not told"),
        (_load(one) for one in verdict.get("loads", [])),
    )
    page.listing("While drilling", drilling(verdict["fixings"]))
    page.table(
        "Panels",
        ("order", "panel", "size", "mass", "hands", "handing"),
        (_panel(one) for one in verdict["panels"]),
    )
    made = verdict.get("made_glass") or {"panels": [], "cautions": [], "why": None}
    page.table(
        "Glass made to measure (seen from outside)",
        ("panel", "foot", "right", "head", "left", "handle"),
        (
            (one["name"], *map(shown, one["edges"].values()), one["handle"] or "-")
            for one in made["panels"]
        ),
    )
    page.listing("Before glass is ordered", filter(None, (made["why"], *made["cautions"])))


def drilling(fixings: list[dict[str, Any]]) -> list[str]:
    """Say once each what goes with the holes: speed, cooling, sealing, cautions."""
    said: dict[str, None] = {}
    for one in fixings:
        if one["bit"]:
            how = [one["bit"], one["speed"], one["cooling"]]
            said["; ".join(each for each in how if each) + "."] = None
        said |= dict.fromkeys([*one["cautions"], one["seal"]])
    return [text for text in said if text]


def _cut(one: dict[str, Any]) -> tuple[str, ...]:
    return (
        f"{one['count']} × {one['part']}",
        f"{shown(one['distance'])} at {one['height']}",
        one["deduct"],
        shown(one["length"]),
        one["uncertainty"] or "-",
        one["stock"],
        one["state"],
    )


def _fixing(one: dict[str, Any]) -> tuple[str, ...]:
    screw = one["screw"]
    fasteners = [one["anchor"], f"{screw['size']} × {screw['length']}" if screw else None]
    return (
        one["place"],
        one["surface"].replace("_", " "),
        one["height"],
        str(one["count"]),
        one["bit"] or "ask",
        one["pilot"]["text"] if one["pilot"] else "-",
        one["final_hole"]["text"] if one["final_hole"] else "-",
        ", ".join(each for each in fasteners if each) or "ask",
        one["state"],
    )


def _load(one: dict[str, Any]) -> tuple[str, ...]:
    cases = (
        f"{case['case']}: pull {case['pull']['lbf']}, shear {case['shear']['lbf']}"
        for case in one["cases"]
    )
    return (
        one["place"],
        one["surface"].replace("_", " "),
        one["height"],
        "; ".join(cases) or "-",
        one.get("used") or "-",
        one["why"] or holder(one.get("by")),
    )


def _panel(one: dict[str, Any]) -> tuple[str, ...]:
    size = f"{one['width']} × {one['height']} × {one['thickness']}"
    return (
        str(one["order"]), one["name"], size, one["mass"], str(one["hands"]), one["handing"],
    )  # fmt: skip


def shown(value: Any) -> str:
    """Show a length in both units, another value as it is, nothing as a dash."""
    if value is None:
        return "-"
    return f"{value['inch']} ({value['mm']})" if isinstance(value, dict) else str(value)


def source_text(source: dict[str, Any]) -> str:
    """Name a document and what it is worth."""
    return f"{source['document']}, {source['edition']}; {source['status']}"


def place_text(source: dict[str, Any]) -> str:
    """Say where in its document a source stands."""
    return f"p. {source['page']}" if source.get("page") else str(source.get("clause") or "")
