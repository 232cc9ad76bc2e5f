"""Which hatch stands for which surface, drawn stroke by stroke so that black and white keeps it."""

from collections.abc import Callable, Mapping
from typing import Any

from fitcheck.drawings.svg import FINE, INK, circle, line, rect, slanted, text

FAMILIES = {
    "glazed_ceramic": "tile",
    "porcelain": "tile",
    "glass_tile": "tile",
    "natural_stone": "stone",
    "solid_surface": "stone",
    "acrylic": "moulded",
    "fibreglass": "moulded",
    "painted_board": "board",
    "masonry": "masonry",
    "bare": "board",
}


def family_of(zone: Mapping[str, Any]) -> str:
    """Return the hatch that a zone is drawn with; a moulded wall also says hollow or solid."""
    family = FAMILIES.get(str(zone.get("finish")), "unknown")
    if family != "moulded":
        return family
    fit = str(zone.get("fit"))
    return f"moulded_{fit}" if fit in ("hollow", "solid") else "unknown"


def hatched(family: str, x: float, y: float, width: float, height: float) -> str:
    """Return a box of one surface; what nobody knows is an empty box with question marks."""
    return HATCHES.get(family, _unknown)(x, y, width, height)


def _tile(x: float, y: float, width: float, height: float) -> str:
    across = [line((x, y + i * 7), (x + width, y + i * 7), FINE) for i in _steps(height, 7)]
    down = [line((x + i * 7, y), (x + i * 7, y + height), FINE) for i in _steps(width, 7)]
    return rect(x, y, width, height, FINE) + "".join(across + down)


def _stone(x: float, y: float, width: float, height: float) -> str:
    dots = [circle(x + 3 + (i % 2) * 4, y + i * 4, 1.1, f'fill="{INK}"') for i in _steps(height, 4)]
    return slanted(x, y, width, height, 12) + "".join(dots)


def _hollow(x: float, y: float, width: float, height: float) -> str:
    return slanted(x, y, width, height, 10)


def _solid(x: float, y: float, width: float, height: float) -> str:
    return slanted(x, y, width, height, 3.5)


def _board(x: float, y: float, width: float, height: float) -> str:
    dots = [circle(x + width / 2, y + i * 5, 0.7, f'fill="{INK}"') for i in _steps(height, 5)]
    return rect(x, y, width, height, FINE) + "".join(dots)


def _masonry(x: float, y: float, width: float, height: float) -> str:
    courses = [line((x, y + i * 8), (x + width, y + i * 8), FINE) for i in _steps(height, 8)]
    joints = [
        line(
            (x + width * (0.3 + 0.4 * (i % 2)), y + i * 8),
            (x + width * (0.3 + 0.4 * (i % 2)), min(y + i * 8 + 8, y + height)),
            FINE,
        )
        for i in range(int(height // 8) + 1)
    ]
    return rect(x, y, width, height, FINE) + "".join(courses + joints)


def _unknown(x: float, y: float, width: float, height: float) -> str:
    marks = [
        text(x + width / 2, y + i * 24 - 8, "?", anchor="middle", bold=True)
        for i in _steps(height, 24)
    ]
    return rect(
        x, y, width, height, f'stroke="{INK}" stroke-width="1" stroke-dasharray="3 2" fill="none"'
    ) + "".join(marks)


def _steps(span: float, step: float) -> range:
    return range(1, max(1, int((span - 0.01) // step) + 1))


HATCHES: dict[str, Callable[[float, float, float, float], str]] = {
    "tile": _tile,
    "stone": _stone,
    "moulded_hollow": _hollow,
    "moulded_solid": _solid,
    "board": _board,
    "masonry": _masonry,
    "unknown": _unknown,
}
