"""Invented openings with a known shape, read with known tools, with or without one planted mistake."""

import random
from dataclasses import dataclass, replace

import numpy as np

from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length, inch_text, mm_text
from fitcheck.rules.quadrilateral import UNKNOWNS, Frame, expected, observations
from fitcheck.rules.survey import Reading, Tool

TAPE = Tool("tape", "II", Length(NM_PER_INCH // 16, "1/16 in"), False)
LEVEL = Tool("level", "none", Length(NM_PER_INCH // 32, "1/32 in"), False)
TOP_NM = 72 * NM_PER_INCH
SPARE = Length(1_500_000_000, "1500 mm")


@dataclass(frozen=True, slots=True)
class Opening:
    """A true shape: width at the sill, leans, level and bow [mm]."""

    width: float
    lean_left: float
    lean_right: float
    level: float
    bow: float = 0.0

    def truth(self, reading: Reading) -> float:
        """What the reading would be if nothing were ever read wrong [mm]."""
        shape = np.zeros(len(UNKNOWNS))
        shape[:5] = self.width, self.lean_left, self.lean_right, self.level, self.bow
        (seen,) = observations((reading,))
        return expected(seen, shape, Frame(TOP_NM / NM_PER_MM))[0]


def reading(
    name: str, quantity: str, side: str = "none", height: int | None = None, tool: Tool = TAPE
) -> Reading:
    """A reading that is still to be given its value."""
    up = None if height is None else Length(height, inch_text(height))
    over = Length(TOP_NM, "72 in") if quantity == "lean" else None
    return Reading(name, quantity, side, up, over, SPARE, tool, "-", "-")


def usual_readings() -> list[Reading]:
    """Three widths, two leans, the level and two diagonals."""
    return [
        reading("w0", "width", height=0),
        reading("w1", "width", height=TOP_NM // 2),
        reading("w2", "width", height=TOP_NM),
        reading("ll", "lean", "left", tool=LEVEL),
        reading("lr", "lean", "right", tool=LEVEL),
        reading("sl", "sill_level", tool=LEVEL),
        reading("dl", "diagonal", "left", TOP_NM),
        reading("dr", "diagonal", "right", TOP_NM),
    ]


def drawn(chance: random.Random, bow: float = 0.0) -> Opening:
    """An opening as bathrooms have them."""
    return Opening(
        chance.uniform(800, 1800),
        chance.gauss(0, 3),
        chance.gauss(0, 3),
        chance.gauss(0, 2),
        chance.gauss(0, bow),
    )


def valued(one: Reading, mm: float) -> Reading:
    """The reading with a value, written in whole nanometres."""
    nm = round(mm * NM_PER_MM)
    return replace(one, value=Length(nm, mm_text(nm)))


def perfect(opening: Opening, wanted: list[Reading]) -> tuple[Reading, ...]:
    """Readings without any error, to the nanometre."""
    return tuple(valued(one, opening.truth(one)) for one in wanted)


def as_read(opening: Opening, wanted: list[Reading], chance: random.Random) -> tuple[Reading, ...]:
    """Readings with the error that their tools have, written to the mark of the tool."""
    found = []
    for one in wanted:
        truth = opening.truth(one)
        (seen,) = observations((valued(one, truth),))
        graduation = one.tool.graduation.nm
        rest = max(0.0, seen.sigma**2 - (graduation / NM_PER_MM) ** 2 / 12) ** 0.5
        marks = round((truth + chance.gauss(0, rest)) * NM_PER_MM / graduation)
        nm = marks * graduation
        found.append(replace(one, value=Length(nm, inch_text(nm, 32))))
    return tuple(found)


def mistaken(readings: tuple[Reading, ...], n: int, off_nm: int) -> tuple[Reading, ...]:
    """The same readings with one of them off by so much."""
    nm = readings[n].value.nm + off_nm
    wrong = replace(readings[n], value=Length(nm, inch_text(nm, 32)))
    return (*readings[:n], wrong, *readings[n + 1 :])
