"""What is the bathroom really like, and what does somebody read there? The truth is kept apart."""

import copy
import json
import random
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from uuid_utils.compat import uuid7

from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, inch_text, length_parse
from fitcheck.rules.survey import Reading, Tool
from fitcheck.rules.tables import READING_REPEATABILITY
from tests.fitcheck.rules import simulated_openings as shapes

EXAMPLE = (
    Path(__file__).resolve().parents[2] / "contractor" / "config" / "demo" / "survey-post.json"
)
KIT = "osquith-tillybeck"
SHAPED = ("width", "lean", "sill_level", "diagonal")
STEP_NM = NM_PER_INCH // 16
TAPE_MM = 0.3  # an error of a tape of class II over this length, house setting
FINE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
BRACKETS_TAKE_MM = 1.125 * 25.4  # as the kit's sheet says
FIXED_MM = 0.3  # how far brackets are fixed off what the sheet says, house setting
LEAST_MM, MOST_MM = 56.4 * 25.4, 59.1 * 25.4  # widths that the kit's larger size takes


@dataclass
class Bathroom:
    """A true opening, and how its brackets were really fixed."""

    true: shapes.Opening
    off_mm: float
    tape_mm: float
    rows: list[dict[str, Any]] = field(default_factory=list)

    @classmethod
    def drawn(cls, chance: random.Random, *, too_wide: bool) -> "Bathroom":
        """Build one: most take the kit, a few are wider than it reaches."""
        width = chance.uniform(LEAST_MM, MOST_MM) + (90 if too_wide else 0)
        leans = chance.gauss(0, 1), chance.gauss(0, 1)
        true = shapes.Opening(width, *leans, chance.gauss(0, 0.6), chance.gauss(0, 0.3))
        return cls(true, chance.gauss(0, FIXED_MM), chance.gauss(0, TAPE_MM))

    def true_mm(self, quantity: str, height: str) -> float:
        """The distance as it is: between the walls, or between the brackets as fixed [mm]."""
        at = length_parse(height).nm
        width = self.true.truth(shapes.valued(shapes.reading("t", "width", height=at), 1500))
        return width - BRACKETS_TAKE_MM + self.off_mm if quantity == "between_brackets" else width

    def read_fine(self, quantity: str, height: str, chance: random.Random) -> int:
        """Somebody reads a distance with the crew's one fine tape, whose error all share [nm]."""
        seen = self.true_mm(quantity, height) + self.tape_mm
        seen += chance.gauss(0, READING_REPEATABILITY.value)
        return round(seen * NM_PER_MM / STEP_NM) * STEP_NM

    def survey(
        self, opening: str, by: str, when: str, chance: random.Random, *, burned: bool
    ) -> dict[str, Any]:
        """Read the whole opening; with `burned` one width is read from the inch mark, not the hook."""
        body = copy.deepcopy(json.loads(EXAMPLE.read_text(encoding="utf-8")))
        shaped = [one for one in body["readings"] if one["quantity"] in SHAPED]
        found = shapes.as_read(self.true, [_wanted(one) for one in shaped], chance)
        for row, read in zip(shaped, found, strict=True):
            row["value"] = inch_text(read.value.nm, 32)
        if burned:
            wrong = chance.choice([one for one in shaped if one["quantity"] == "width"])
            wrong["value"] = inch_text(length_parse(wrong["value"]).nm + NM_PER_INCH, 32)
        for row in (*body["readings"], *body["zones"]):
            row["id"] = str(uuid7())
        for row in body["readings"]:
            row |= {"read_by": by, "taken_at": when}
        self.rows = body["readings"]
        own = {"readings": body["readings"], "zones": body["zones"]}
        return {"id": str(uuid7()), "opening": opening, "taken_at": when, "kit": KIT, **own}


def _wanted(row: dict[str, Any]) -> Reading:
    told = row["tool"]
    graduation = length_parse(told["graduation"])
    tool = Tool(told["kind"], told["accuracy_class"], graduation, told["hook"])
    height = length_parse(row["height"]).nm if row["height"] else None
    return shapes.reading(row["id"], row["quantity"], row["side"], height, tool)


def off_by(nm: int, kind: str) -> int:
    """Misread a distance: an inch counted wrongly, or an eighth for a sixteenth [nm]."""
    return nm + (NM_PER_INCH if kind == "inch" else -NM_PER_INCH // 8)


def text(nm: int) -> str:
    """Write a distance as a hand would."""
    return inch_text(nm, 32)


def mm(told: str) -> float:
    """Read a length [mm]."""
    return length_parse(told).nm / NM_PER_MM
