"""What is kept of the shape of an opening, and which readings are in doubt?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.finding import Finding

SHAPING = frozenset({"width", "lean", "sill_level", "ceiling_height", "diagonal"})
NOTHING_SHAPES = "No reading tells of the shape: read a width, a lean, the level or a diagonal."


@dataclass(frozen=True, slots=True)
class ShapeTold:
    """The shape as plain JSON, or why there is none; and which readings are in doubt."""

    members: dict[str, object] | None
    why: str | None
    doubted: Mapping[str, str]
    finding: Finding | None

    def as_json(self) -> dict[str, object]:
        """Return the two members of a verdict."""
        return {"shape": self.members, "shape_why": self.why}


UNDOUBTED = ShapeTold(None, None, {}, None)
