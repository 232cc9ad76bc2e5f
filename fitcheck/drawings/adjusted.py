"""Which opening do all readings together give: the adjusted widths and leans, if they are told?"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fitcheck.drawings.measures import length_mm, length_nm

Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class AdjustedWidth:
    """A width that every reading has had its say in, at a height, with its doubt in words."""

    height_mm: float
    height: str
    width_nm: int
    label: tuple[str, ...]
    uncertainty: str


@dataclass(frozen=True, slots=True)
class Adjusted:
    """The adjusted opening as a verdict tells it."""

    widths: tuple[AdjustedWidth, ...]
    lean_left_mm: float | None
    over_mm: float
    state: str
    summary: str

    def left_mm(self, height_mm: float) -> float:
        """Return how far in from its own foot the left wall stands at a height [mm]."""
        if self.lean_left_mm is not None:
            return self.lean_left_mm * height_mm / self.over_mm
        return (self.widths[0].width_nm - self._near(height_mm).width_nm) / 2e6

    def _near(self, height_mm: float) -> AdjustedWidth:
        return min(self.widths, key=lambda w: abs(w.height_mm - height_mm))

    def near(self, height_mm: float) -> AdjustedWidth | None:
        """Return the adjusted width at this height, if it was worked out there."""
        found = self._near(height_mm)
        return found if abs(found.height_mm - height_mm) < 1 else None


def adjusted_of(verdict_json: Json) -> Adjusted | None:
    """Return the adjusted opening out of a verdict's `shape`; None when it holds none."""
    shape = verdict_json.get("shape")
    if not isinstance(shape, Mapping):
        return None
    widths = [_width(w) for w in shape.get("widths") or [] if isinstance(w, Mapping)]
    known = sorted((w for w in widths if w), key=lambda w: w.height_mm)
    over = length_mm(shape.get("over"))
    if not known or not over:
        return None
    named = {p.get("name"): length_mm(p.get("value")) for p in shape.get("shape") or []}
    return Adjusted(
        tuple(known),
        named.get("lean_left"),
        over,
        str(shape.get("state") or "unchecked"),
        str(shape.get("summary") or ""),
    )


def _width(row: Json) -> AdjustedWidth | None:
    value, height = row.get("width"), length_mm(row.get("height"))
    nm_ = length_nm(value)
    if nm_ is None or height is None or not isinstance(value, Mapping):
        return None
    label = tuple(str(value[key]) for key in ("inch", "mm") if value.get(key))
    return AdjustedWidth(
        height, str(row.get("height")), nm_, label, str(row.get("uncertainty") or "")
    )
