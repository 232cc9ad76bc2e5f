"""Which patterns are chosen, in parts of bars or in whole bars?"""

from dataclasses import dataclass
from typing import Any

from fitcheck.rules.patterns import Packing, Pattern, Use

Column = tuple[int, Pattern]
USED = 1e-7
FEASIBLE = 2


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The choice in parts of bars: cost, worth of each size, rent of each bar, what is used."""

    cost: float
    worth: tuple[float, ...]
    rent: tuple[float, ...]
    used: list[tuple[Column, float]]


def _quiet(solver: Any) -> Any:
    """Return the solver made silent before it first speaks: it prints a banner while it is built."""

    class Quiet(solver):
        def enableCallbacks(self) -> None:
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()

    return Quiet


class Choice:
    """The choice among patterns: rows are sizes and limited bars, columns are patterns."""

    def __init__(self, packing: Packing, penalty: int) -> None:
        import highspy

        self.packing = packing
        self.penalty = penalty
        self.columns: list[Column | None] = []
        self.known: set[Column] = set()
        self.highs = _quiet(highspy.Highs)()
        self.whole = highspy.HighsVarType.kInteger
        self.endless = highspy.kHighsInf
        self.highs.setOptionValue("random_seed", 1)
        self.highs.setOptionValue("threads", 1)
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        for wanted in packing.wanted:
            self.highs.addRow(float(wanted), self.endless, 0, [], [])
        self.rows = {
            bar: len(packing.wanted) + index
            for index, bar in enumerate(b for b, n in enumerate(packing.limits) if n is not None)
        }
        for bar in self.rows:
            self.highs.addRow(-self.endless, float(packing.limits[bar] or 0), 0, [], [])
        if self.rows:
            for piece in range(len(packing.wanted)):
                self._column(None, penalty, {piece: 1})

    def add(self, columns: list[Column]) -> None:
        """Add patterns that are not there yet."""
        for bar, pattern in columns:
            if (bar, pattern) in self.known:
                continue
            self.known.add((bar, pattern))
            entries = {piece: number for piece, number in enumerate(pattern) if number}
            if bar in self.rows:
                entries[self.rows[bar]] = 1
            self._column((bar, pattern), self.packing.costs[bar], entries)

    def _column(self, column: Column | None, cost: int, entries: dict[int, int]) -> None:
        import numpy as np

        self.columns.append(column)
        rows = np.array(list(entries), dtype=np.int32)
        values = np.array(list(entries.values()), dtype=np.float64)
        self.highs.addCol(float(cost), 0.0, self.endless, len(rows), rows, values)

    def patterns(self) -> list[Column]:
        """Return the patterns that are there."""
        return [column for column in self.columns if column is not None]

    def relaxed(self) -> Relaxed:
        """Return the least cost in parts of bars, with what pieces and scarce bars are worth."""
        self.highs.run()
        solution = self.highs.getSolution()
        dual, values = solution.row_dual, solution.col_value
        pieces = len(self.packing.wanted)
        rent = tuple(
            float(dual[self.rows[bar]]) if bar in self.rows else 0.0
            for bar in range(len(self.packing.rooms))
        )
        used = [
            (column, float(value))
            for column, value in zip(self.columns, values, strict=True)
            if column is not None and value > USED
        ]
        cost = float(self.highs.getInfo().objective_function_value)
        return Relaxed(cost, tuple(float(each) for each in dual[:pieces]), rent, used)

    def in_whole_numbers(self, seconds: float) -> tuple[list[Use] | None, float]:
        """Return the best choice in whole bars, and what the solver proved beneath it."""
        import numpy as np

        size = len(self.columns)
        which = np.arange(size, dtype=np.int32)
        self.highs.changeColsIntegrality(size, which, np.array([self.whole] * size))
        self.highs.setOptionValue("time_limit", seconds)
        self.highs.run()
        info = self.highs.getInfo()
        if info.primal_solution_status != FEASIBLE:
            return None, float(info.mip_dual_bound)
        chosen = [round(value) for value in self.highs.getSolution().col_value]
        uses = [
            Use(column[0], column[1], times)
            for column, times in zip(self.columns, chosen, strict=True)
            if column is not None and times > 0
        ]
        return uses, float(info.mip_dual_bound)
