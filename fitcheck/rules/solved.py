"""What is known of an opening once its readings are adjusted, and how surely?"""

import math
from dataclasses import dataclass

import numpy as np

from fitcheck.rules.least_squares import Array, Fit
from fitcheck.rules.quadrilateral import ADJUSTED, Frame, Observation


@dataclass(frozen=True, slots=True)
class Solved:
    """A shape that agrees best with some readings."""

    seen: tuple[Observation, ...]
    frame: Frame
    shape: Array
    design: Array
    fit: Fit
    bowed: bool
    settled: bool = True

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids of what was read and assumed, in the order of the adjustment."""
        return tuple(each.id for each in self.seen)

    @property
    def read(self) -> tuple[Observation, ...]:
        """Return what was read, without what was assumed."""
        return tuple(each for each in self.seen if each.quantity in ADJUSTED)

    def along(self, row: Array) -> tuple[float, float] | None:
        """Return the value and standard uncertainty of a combination of the unknowns [mm].

        None when no reading determines it.
        """
        if np.linalg.norm(row - self.fit.seen @ row) > 1e-6 * np.linalg.norm(row):
            return None
        return float(row @ self.shape), self.doubt(row)

    def doubt(self, row: Array) -> float:
        """Return the standard uncertainty of a combination; one tool errs one way throughout [mm]."""
        answers = row @ self.fit.gains
        square = float(np.sum((answers * self.fit.sigmas) ** 2))
        shared: dict[object, list[float]] = {}
        for answer, each in zip(answers, self.seen, strict=True):
            shared.setdefault(each.tool, []).append(float(answer) * each.shared)
        square += sum(
            sum(parts) ** 2 - sum(one * one for one in parts) for parts in shared.values()
        )
        return math.sqrt(max(0.0, square))
