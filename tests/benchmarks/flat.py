"""What would somebody write by hand to set the same four pages? A document with every word in its place.

No data is read, nothing is looped over, no function of ours runs: what a compiler needs for the pages alone.
"""

import json
import re
from typing import Any

Json = dict[str, Any]
FIGURE = re.compile(
    r"(-?[0-9][0-9./]*(?: [0-9]+/[0-9]+)? (?:in|mm|cm|m|kg|mL|hours|holes)\b|page [0-9]+)"
)
HEAD = """
#set document(title: {title}, author: {firm})
#set text(lang: "en", size: 10pt, ligatures: false, hyphenate: false,
  font: ("Source Sans 3", "DejaVu Sans", "Noto Emoji"), number-width: "tabular")
#set par(leading: 0.52em, spacing: 0.7em, justify: false)
#show heading.where(level: 1): it => text(size: 24pt, weight: "bold", it.body)
#show heading.where(level: 2): it => text(size: 14pt, weight: "bold", it.body)
#show heading.where(level: 3): it => block(above: 10pt, below: 5pt, sticky: true,
  text(size: 11pt, weight: "bold", it.body))
#set table(stroke: (x, y) => (bottom: if y == 0 {{ 1pt }} else {{ 0.4pt }}), inset: (x: 4pt, y: 4pt))
#show table.cell.where(y: 0): set text(weight: "bold", size: 9pt)
#set page(paper: "us-letter", margin: (x: 15mm, top: 30mm, bottom: 18mm), header-ascent: 14%,
  footer-descent: 25%, header: grid(columns: (auto, 1fr, auto),
    align: (left + horizon, left + horizon, right + horizon), column-gutter: 8pt,
    image(bytes({qr}), format: "svg", alt: "Scan code of this packet", width: 15mm),
    stack(spacing: 4pt, text(size: 13pt, weight: "bold")[{number} · {kind}],
      text(size: 9pt)[#"code " #text(weight: "bold", {code})#" · scan it: still current, or superseded?"]),
    stack(spacing: 4pt, text(weight: "bold", {job}), text(size: 9pt, {firm}))),
  footer: grid(columns: (1fr, auto), stroke: (top: 0.6pt), inset: (top: 4pt), text(size: 9pt, {foot}),
    context text(size: 9pt, weight: "bold")[#box[page #counter(page).display()] of 4]))
"""


def flat_source(c: Json) -> str:
    """Return the pages of one survey packet, set by its content, as a source with nothing to work out."""
    (page,) = c["openings"]
    booking, number = c["booking"], c["job"]["number"]
    foot = f"{c['number']} · job {number} · code {c['code']} · made {c['made_at']}"
    said = {
        "title": c["title"],
        "firm": c["firm"]["name"],
        "qr": c["qr"],
        "code": c["code"],
        "foot": foot,
    }
    head = HEAD.format(
        **{name: _text(value) for name, value in said.items()},
        job=_text(f"Job {number}"),
        number=c["number"],
        kind=c["kind_word"],
    )
    return "\n".join([head, *_cover(c, booking), *_page(page)])


def _text(value: Any) -> str:
    return json.dumps(str(value), ensure_ascii=False)


def _said(words: Any, style: str = "") -> str:
    """Words as content, each figure kept with its unit, as the template keeps it."""
    parts = FIGURE.split(str(words))
    inside = "".join(
        f"#box({_text(p)})" if i % 2 else f"#{_text(p)}" for i, p in enumerate(parts) if p
    )
    return f"text({style})[{inside}]" if style else f"[{inside}]"


BOLD, SMALL, FAINT = 'weight: "bold"', "size: 9pt", "size: 9pt, fill: luma(90)"
TICK = "box(width: 9pt, height: 9pt, stroke: 1pt + black, baseline: 1pt)"


def _minor(title: str) -> str:
    return (
        "{ show heading: it => block(above: 10pt, below: 5pt, sticky: true, "
        f'text(size: 11pt, weight: "bold", it.body)); heading(level: 2, {_text(title)}) }}'
    )


def _labels(rows: list[tuple[str, str]], wide: int, style: str = "") -> str:
    cells = [f"{_said(a, FAINT)}, {_said(b, style)}" for a, b in rows]
    return (
        f"grid(columns: ({wide}pt, 1fr), row-gutter: 5pt, column-gutter: 8pt, {', '.join(cells)})"
    )


def _cover(c: Json, booking: Json) -> list[str]:
    site, customer = c["site"], c["customer"]
    address = [
        f'block(above: 5pt, below: 5pt, text(size: 12pt, weight: "semibold", {_text(line)}))'
        for line in site["address_lines"]
    ]
    who = [
        ("customer", customer["name"]),
        ("telephone", customer["phone"]),
        ("year built", site["year_built"]),
    ]
    way = [(one["what"], one["value"]) for one in site["way_in"]]
    people = f"{c['hands']} people"
    visit = f"{booking['zone']} · {booking['visit']} · booking {booking['number']}"
    when = (
        f'text(size: 17pt, weight: "bold", {_text(booking["when"])}); linebreak(); '
        f"{_said(visit)}; linebreak(); "
        f"[#{_said(people + ' at least', BOLD)} · #{_said(booking['crew'], BOLD)}: "
        f"#{_text(', '.join(booking['members']))}]"
    )
    tools = [
        f"{TICK}, {_said(one['count'], BOLD)}, {_said(one['what'])}" for one in c["load"]["tools"]
    ]
    return [
        f"#heading(level: 1, {_text(c['job']['summary'])})",
        "#block(width: 100%, fill: luma(236), inset: (x: 10pt, y: 8pt), stroke: (left: 4pt + black), "
        f"{{ {when} }})",
        "#grid(columns: (1fr, 1fr), column-gutter: 18pt, "
        f"{{ {_minor('Where')}; {'; '.join(address)}; v(2pt); {_labels(who, 68)} }}, "
        f"{{ {_minor('Way in')}; {_labels(way, 90, BOLD)}; v(2pt); "
        f"{_said('Notes on access', FAINT)}; linebreak(); {_text(site['access_notes'])} }})",
        "#block(sticky: true, above: 11pt, below: 4pt, width: 100%, stroke: (bottom: 1.6pt + black), "
        f"inset: (bottom: 3pt), heading(level: 2, {_text('Load before you go · ' + people)}))",
        "#grid(columns: (1fr, 1fr), column-gutter: 18pt, { "
        'heading(level: 3, "Tools"); grid(columns: (11pt, 13pt, 1fr), column-gutter: 5pt, row-gutter: 4.5pt, '
        f"{', '.join(tools)}) }}, [])",
    ]  # fmt: skip


def _section(number: str, title: str) -> str:
    return (
        "#block(width: 100%, above: 14pt, below: 6pt, sticky: true, stroke: (bottom: 1.6pt + black), "
        "grid(columns: (auto, 1fr), align: horizon, column-gutter: 9pt, "
        'box(fill: black, inset: (x: 8pt, y: 5pt), text(fill: white, weight: "bold", size: 13pt, '
        f"{_text(number)})), heading(level: 2, outlined: true, {_text(title)})))"
    )


def _page(page: Json) -> list[str]:
    facts = [(one["what"], one["value"]) for one in page["facts"]]
    return [
        "#v(20pt, weak: true)",
        f"#heading(level: 1, {_text(page['name'])})",
        "#v(2pt)",
        f"#{_labels(facts, 104, BOLD)}",
        f"#block(above: 6pt)[#\"Wanted kit: \" #{_said(page['kit'], BOLD)}"
        '#". The heights below are those its sheet asks for."]',
        _section("1", "What to read, and how"),
        f"#{_said(EVERY, SMALL)}",
        *(line for group in page["groups"] for line in _group(group)),
        _section("2", "What the walls are made of"),
        *_zones(page),
        _section("3", "What else to look at"),
        _around(),
        "#v(6pt)\n#block(height: 48mm, breakable: false, below: 0pt)\n#v(-48mm)\n"
        "#block(width: 100%, height: 1fr, stroke: 0.7pt + luma(90), inset: 4pt, above: 0pt, "
        f"{_said('Sketch: obstructions, shower head, swing, where the wall changes', FAINT)})\n#v(4pt)",
        "#grid(columns: (1.4fr, 1.4fr, 1fr), column-gutter: 14pt, "
        f"{_line('reader 1: name')}, {_line('reader 2: name')}, {_line('date and time')})",
    ]  # fmt: skip


EVERY = (
    "Every figure with its unit. Two readers or two tools for each width; the second reads without hearing "
    "the first. If two readings differ by more than the tools can, read again."
)
WALLS = (
    "A wall can change where the tile or surround ends: one row for each part. Tap it: hollow or solid? What "
    "nobody can see is written as unknown, never guessed."
)
AROUND = (
    "Shower head: on which side, seen from the room?",
    "Valves, niche, towel bar, toilet, room door: do they leave the swing free? Draw them.",
    "Way in: narrowest door, corridor, stair turn, lift car, in width and height.",
    "Year the house was built, or who knows it.",
    "Photographs: whole opening, both walls, sill, every reading that surprises.",
)


def _group(group: Json) -> list[str]:
    how = f"; {_said(group['how'], SMALL)}" if group["how"] else ""
    name = group["what"][:1].upper() + group["what"][1:]
    head = (
        "#block(sticky: true, above: 9pt, below: 2pt, width: 100%, fill: luma(236), inset: (x: 6pt, y: 4pt), "
        f"breakable: false, {{ [ ]; heading(level: 3, outlined: false, {_text(name)}); [ ]{how} }})"
    )
    return [head, *map(_row, group["rows"])]


def _row(row: Json) -> str:
    why = f"; linebreak(); {_said(row['why'], FAINT)}" if row["why"] else ""
    own = "height" if row["height"] else "over" if row["over"] else ""
    cells = [_under(one) for one in (own, "reader 1", "reader 2", "tool") if one]
    return (
        "#block(width: 100%, breakable: false, above: 5pt, below: 3pt, grid("
        "columns: (1.5fr, 0.8fr, 1fr, 1fr, 0.75fr), column-gutter: 7pt, "
        "align: (horizon, top, top, top, top), "
        f"grid.cell(colspan: {1 if own else 2}, {{ {_said(row['where'], BOLD)}{why} }}), {', '.join(cells)}))"
    )


def _under(label: str) -> str:
    return f"stack(spacing: 3pt, rect(width: 100%, height: 19pt, stroke: 1pt + black), {_said(label, FAINT)})"


def _line(label: str) -> str:
    under = f", {_said(label, FAINT)}" if label else ""
    return (
        "block(width: 100%, breakable: false, above: 0pt, below: 0pt, "
        f"stack(spacing: 4pt, v(15pt), line(length: 100%, stroke: 0.7pt){under}))"
    )


def _zones(page: Json) -> list[str]:
    left, right, sill = page["zones"]
    heads = ("Surface", "from", "to", "finish", "thick", "board behind", "thick", "structure")
    rows = [
        f"{_said(zone, BOLD)}, {', '.join(['v(17pt)'] * 7)}"
        for zone in (left, left, right, right, sill)
    ]
    found = [
        f'#{{ text(size: 9pt)[#{_text(f"The kit allows these {what}: ")}#{_said(page[what], BOLD)}#"."] }}'
        for what in ("finishes", "structures")
    ]
    return [
        f"#{_said(WALLS, SMALL)}",
        "#table(columns: (1.35fr, 0.75fr, 0.75fr, 1.2fr, 0.75fr, 1.2fr, 0.75fr, 1.15fr), "
        f"table.header({', '.join(map(_text, heads))}), {', '.join(rows)})",
        "#linebreak()".join(found),
    ]  # fmt: skip


def _around() -> str:
    cells = [f"{TICK}, {_said(words)}, {_line('')}" for words in AROUND]
    return (
        "#grid(columns: (12pt, 1fr, 150pt), column-gutter: 6pt, row-gutter: 7pt, "
        f"align: (horizon, horizon, bottom), {', '.join(cells)})"
    )
