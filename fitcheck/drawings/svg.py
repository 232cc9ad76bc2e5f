"""How is a drawing written as SVG: escaped text, plain shapes, hatches, the named frame?"""

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from html import escape
from math import ceil

FONT = "'Source Sans 3', 'Source Sans Pro', 'DejaVu Sans', sans-serif"
PAGE_WIDTH = (
    510.0  # points: the text width of an A4 page with 15 mm margins, so text prints at its size
)
SMALL = 9.0  # points: nothing on paper is set smaller
MEAN_LETTER = 0.5  # of the font size; good enough to wrap a caption, never used for a measure
TIE = "\u00a0"
TIED = re.compile(r"(\d) (?=\d+/\d+ |in\b|mm\b|kg\b)")  # a figure never parts from its unit
INK = "#000"
GREY = "#555"

# A line drawing needs a few strokes only; each has one meaning in every picture.
SOLID = f'stroke="{INK}" stroke-width="1.2" fill="none"'
HEAVY = f'stroke="{INK}" stroke-width="2.2" fill="none"'
FINE = f'stroke="{GREY}" stroke-width="0.6" fill="none"'
DASHED = f'stroke="{INK}" stroke-width="0.9" stroke-dasharray="6 3" fill="none"'
DOTTED = f'stroke="{GREY}" stroke-width="0.7" stroke-dasharray="1 3" fill="none"'

Point = tuple[float, float]


class Said(str):
    """Words that are said already: a line of a sentence must not be taken for a sentence."""


_said: ContextVar[Callable[[str], str]] = ContextVar("said", default=str)


@contextmanager
def saying(said: Callable[[str], str]) -> Iterator[None]:
    """Write the words of every drawing in the block as `said` gives them back."""
    before = _said.set(said)
    try:
        yield
    finally:
        _said.reset(before)


def number(value: float) -> str:
    """Return a coordinate with at most two decimals, so that equal input gives equal bytes."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def clean(text: object) -> str:
    """Return the text escaped for XML, without the control characters that XML 1.0 forbids."""
    kept = "".join(c for c in str(text) if c in "\t\n" or (c >= " " and c not in "\ufffe\uffff"))
    return escape("".join(c for c in kept if not "\ud800" <= c <= "\udfff"), quote=True)


def frame(width: float, height: float, title: str, desc: str, parts: Iterable[str]) -> str:
    """Return the whole picture with its role, title and description for those who do not see it."""
    size = f'width="{number(width)}pt" height="{number(height)}pt"'
    box = f'viewBox="0 0 {number(width)} {number(height)}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size} {box} font-family="{FONT}">'
    named = f"<title>{clean(title)}</title>\n<desc>{clean(desc)}</desc>"
    paper = f'<rect width="{number(width)}" height="{number(height)}" fill="#fff"/>'
    return "\n".join([head, named, paper, *parts, "</svg>\n"])


def text(
    x: float,
    y: float,
    words: object,
    *,
    size: float = SMALL,
    anchor: str = "start",
    bold: bool = False,
    halo: bool = False,
) -> str:
    """Return one selectable line of text; `halo` clears a white ground behind it."""
    words = words if isinstance(words, Said) else _said.get()(str(words))
    weight = ' font-weight="700"' if bold else ""
    line = (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" '
        f'text-anchor="{anchor}"{weight}>{clean(words)}</text>'
    )
    return ground(x, y, str(words), size, anchor) + line if halo else line


def ground(x: float, y: float, words: str, size: float, anchor: str) -> str:
    """Return the white box behind a line of text that crosses other lines."""
    wide = len(words) * size * (MEAN_LETTER + 0.05) + 4
    left = {"start": x - 2, "middle": x - wide / 2, "end": x - wide + 2}[anchor]
    return rect(left, y - size * 0.85, wide, size * 1.15, 'fill="#fff"')


def lines_of(words: object, width: float, size: float = SMALL) -> list[str]:
    """Return the text broken into lines that fit a width; a word longer than a line is cut."""
    room = max(4, int(width / (size * MEAN_LETTER)))
    lines: list[str] = []
    for word in TIED.sub(r"\1" + TIE, _said.get()(str(words))).replace("\n", " ").split(" "):
        pieces = [word[i : i + room] for i in range(0, len(word), room)]
        for piece in pieces:
            if lines and len(lines[-1]) + 1 + len(piece) <= room:
                lines[-1] += " " + piece
            else:
                lines.append(piece)
    return [Said(line.replace(TIE, " ")) for line in lines]


def paragraph(
    x: float, y: float, words: object, width: float, *, size: float = SMALL, bold: bool = False
) -> tuple[list[str], float]:
    """Return the wrapped lines of a caption and the y of the line that would follow."""
    step = size * 1.22
    lines = lines_of(words, width, size)
    out = [text(x, y + i * step, line, size=size, bold=bold) for i, line in enumerate(lines)]
    return out, y + len(lines) * step


def line(a: Point, b: Point, style: str = SOLID) -> str:
    """Return a straight stroke."""
    return (
        f'<line x1="{number(a[0])}" y1="{number(a[1])}" '
        f'x2="{number(b[0])}" y2="{number(b[1])}" {style}/>'
    )


def rect(x: float, y: float, width: float, height: float, style: str = SOLID) -> str:
    """Return a box."""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(max(width, 0))}" '
        f'height="{number(max(height, 0))}" {style}/>'
    )


def polygon(points: Iterable[Point], style: str = SOLID) -> str:
    """Return a closed outline."""
    walk = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f'<polygon points="{walk}" {style}/>'


def circle(x: float, y: float, radius: float, style: str = SOLID) -> str:
    """Return a circle."""
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" {style}/>'


def arrow(tip: Point, towards: float, *, upright: bool = False, fill: str = INK) -> str:
    """Return a slim arrow head; `towards` is +1 when it points right or down, -1 left or up."""
    x, y = tip
    back, half = -6 * towards, 2
    if upright:
        points = [(x, y), (x - half, y + back), (x + half, y + back)]
    else:
        points = [(x, y), (x + back, y - half), (x + back, y + half)]
    return polygon(points, f'fill="{fill}"')


def dimension(left: float, right: float, y: float, words: str) -> str:
    """Return a level dimension line with heads at both ends and its text in the middle."""
    parts = [
        line((left, y), (right, y), FINE),
        arrow((left, y), -1),
        arrow((right, y), 1),
        text((left + right) / 2, y + 3, words, anchor="middle", halo=True),
    ]
    return "".join(parts)


def slanted(x: float, y: float, width: float, height: float, gap: float = 6) -> str:
    """Return a box filled with slanting strokes, one by one so that any printer keeps them."""
    strokes = [rect(x, y, width, height, FINE)]
    for i in range(1, ceil((width + height) / gap)):
        run = i * gap
        start = (x + min(run, width), y + max(0.0, run - width))
        end = (x + max(0.0, run - height), y + min(run, height))
        strokes.append(line(start, end, FINE))
    return "".join(strokes)
