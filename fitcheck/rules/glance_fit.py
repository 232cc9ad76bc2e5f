"""Which five unknowns agree best with the readings, and how surely are they told?"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from operator import mul

from fitcheck.rules import tables, tables_shape
from fitcheck.rules.chi_square import chi_square_limit, critical
from fitcheck.rules.glance_rows import Row, Seen, belly_of
from fitcheck.rules.length import NM_PER_MM

_UNKNOWNS = 5
_HARDLY = 1e-9
_NEAR = 0.02  # mm: what a step this small leaves is far below a micrometre
UNTOLD_MM, BARELY_MM = 5e3, 20.0
_START_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Told:
    """A value with its standard uncertainty [mm]."""

    value: float
    u: float


class GlanceFit:
    """Five unknowns: width at the sill, lean left and right, level, bow; and what judges them."""

    def __init__(self, seen: list[Seen], top: float) -> None:
        self._seen, self._top = seen, top
        widths = sorted(one.value for one in seen if one.quantity == "width")
        self._shape = [widths[len(widths) // 2] if widths else _START_MM, 0.0, 0.0, 0.0, 0.0]
        self._sigmas = [*(one.sigma for one in seen), tables_shape.BOW_USUAL.value]
        numbers = {one.tool: n for n, one in enumerate(seen)}
        self._shared = [
            (n, numbers[one.tool], one.shared / one.sigma)
            for n, one in enumerate(seen)
            if one.shared
        ]
        self._tools = sorted({tool for _, tool, _ in self._shared})
        self.barely = self.settled = False
        self._settle()
        self._judge()

    def _settle(self) -> None:
        """Step until what is left is nothing; what no reading tells stays where it started."""
        for _ in range(tables_shape.MOST_STEPS.value):
            values, self._rows = self._expected()
            measured = [*(one.value for one in self._seen), 0.0]
            self._short = [
                (read - v) / s for read, v, s in zip(measured, values, self._sigmas, strict=True)
            ]
            columns = list(zip(*self._rows, strict=True))
            self._inverse = _inverted(_normal(columns))
            right = [_dot(column, self._short) for column in columns]
            step = _answers(self._inverse, right)
            self._shape = [a + b for a, b in zip(self._shape, step, strict=True)]
            self.settled = max(map(abs, step)) < _NEAR
            if self.settled:
                break
        moved = _answers(self._rows, step)
        self._short = [v - by for v, by in zip(self._short, moved, strict=True)]

    def _expected(self) -> tuple[list[float], list[Row]]:
        """Return what each reading would be, and its row over its sigma."""
        values, rows = [], []
        for one in self._seen:
            value, row = self._expect(one)
            values.append(value)
            w, left, right, level, bow = row
            s = one.sigma
            rows.append((w / s, left / s, right / s, level / s, bow / s))
        values.append(self._shape[4])
        rows.append((0.0, 0.0, 0.0, 0.0, 1.0 / tables_shape.BOW_USUAL.value))
        return values, rows

    def _expect(self, one: Seen) -> tuple[float, Row]:
        """Source: plane geometry, as in `quadrilateral`."""
        width, left, right, level, bow = self._shape
        if one.quantity == "width":
            return self.width_row(one.height)
        if one.quantity == "lean":
            over = one.over or self._top
            share, belly = over / self._top, belly_of(over / self._top) / 2
            if one.side == "left":
                return left * share + bow * belly, (0.0, share, 0.0, 0.0, belly)
            return right * share + bow * belly, (0.0, 0.0, share, 0.0, belly)
        if one.quantity == "sill_level":
            share = one.over / width if one.over and width else 1.0
            return level * share, (0.0, 0.0, 0.0, share, 0.0)
        from_left = one.side == "left"
        share = one.height / self._top
        belly = belly_of(share) / 2
        across = width - (right if from_left else left) * share - bow * belly
        rise = 1.0 if from_left else -1.0
        up = one.height + rise * level
        value = math.hypot(across, up) or 1.0
        slope = across / value
        leaning = (0.0, -share * slope) if from_left else (-share * slope, 0.0)
        return value, (slope, *leaning, rise * up / value, -belly * slope)

    def width_row(self, height: float) -> tuple[float, Row]:
        """Return the width at a height [mm], and how it answers to the unknowns."""
        width, left, right, level, bow = self._shape
        share = height / self._top
        belly = belly_of(share)
        across = width - (left + right) * share - bow * belly
        value = math.hypot(across, level) or 1.0
        slope = across / value
        return value, (slope, -share * slope, -share * slope, level / value, -belly * slope)

    def _judge(self) -> None:
        """Work out residuals, gains and redundancies at the shape that was found."""
        self._gains = [_answers(self._inverse, row) for row in self._rows]
        hats = [_dot(gain, row) for gain, row in zip(self._gains, self._rows, strict=True)]
        self._shares = [max(0.0, 1.0 - hat) for hat in hats]
        self.freedom = len(hats) - round(sum(hats))
        self.chi_square = _dot(self._short, self._short)

    def suspicious(self) -> bool:
        """Return whether a reading is too far off, or the walls seem to bow."""
        least = tables_shape.LEAST_REDUNDANCY.value
        *shares, straight = self._shares
        *short, bow = self._short
        limit = critical() ** 2
        if any(v * v > limit * r for v, r in zip(short, shares, strict=True) if r > least):
            return True
        heights = {one.height for one in self._seen if one.quantity == "width"}
        return len(heights) > 2 and straight > 0 and bow * bow > _bow_limit() * straight

    def told(self, value: float, row: Row, grown: float = 0.0) -> Told | None:
        """Return a combination of the unknowns with its uncertainty; one tool errs one way."""
        spread = _dot(row, _answers(self._inverse, row))
        if spread > UNTOLD_MM * UNTOLD_MM:
            return None
        self.barely = self.barely or spread > BARELY_MM * BARELY_MM
        errs = _answers(self._gains, row)
        square = _dot(errs, errs) + grown * grown
        by_tool = dict.fromkeys(self._tools, 0.0)
        for n, tool, share in self._shared:
            part = errs[n] * share
            by_tool[tool] += part
            square -= part * part
        square += _dot(by_tool.values(), by_tool.values())
        return Told(value, math.sqrt(max(0.0, square)))

    def width(self, height_nm: int) -> Told | None:
        """Return the width at a height; beyond what was read it is told with more doubt, or not."""
        value, row = self.width_row(height_nm / NM_PER_MM)
        beyond_nm = max(0, height_nm - round(self._highest() * NM_PER_MM))
        if beyond_nm > tables.EXTRAPOLATION.value:
            return None
        return self.told(value, row, tables.EXTRAPOLATION_GROWTH.value * beyond_nm / NM_PER_MM)

    def _highest(self) -> float:
        reach = [one.over if one.quantity == "lean" else one.height for one in self._seen]
        return max(reach, default=0.0)

    def properties(self) -> dict[str, Told | None]:
        """Return leans, taper, racking and level."""
        _, left, right, level, _ = self._shape
        return {
            "lean_left": self.told(left, (0.0, 1.0, 0.0, 0.0, 0.0)),
            "lean_right": self.told(right, (0.0, 0.0, 1.0, 0.0, 0.0)),
            "taper": self.told(-left - right, (0.0, -1.0, -1.0, 0.0, 0.0)),
            "racking": self.told((left - right) / 2, (0.0, 0.5, -0.5, 0.0, 0.0)),
            "out_of_level": self.told(level, (0.0, 0.0, 0.0, 1.0, 0.0)),
        }


def _dot(a: Iterable[float], b: Iterable[float]) -> float:
    total: float = sum(map(mul, a, b))
    return total


def _answers(rows: Iterable[Sequence[float]], unknowns: Sequence[float]) -> list[float]:
    """Return what each row makes of the five unknowns."""
    width, left, right, level, bow = unknowns
    return [w * width + a * left + b * right + v * level + c * bow for w, a, b, v, c in rows]


def _normal(columns: Sequence[Sequence[float]]) -> list[list[float]]:
    """Return the normal matrix of some columns; one half of it mirrors the other."""
    matrix = [[0.0] * _UNKNOWNS for _ in range(_UNKNOWNS)]
    for i, column in enumerate(columns):
        for j in range(i):
            matrix[i][j] = matrix[j][i] = _dot(column, columns[j])
        matrix[i][i] = _dot(column, column)
    return matrix


def _inverted(matrix: list[list[float]]) -> list[list[float]]:
    """Invert a normal matrix in place by sweeping; what nothing tells gets a huge variance."""
    size = range(_UNKNOWNS)
    for k in size:
        matrix[k][k] += _HARDLY
    for k in size:
        pivot = matrix[k][k]
        lead = [value / pivot for value in matrix[k]]
        lead[k] = 1.0 / pivot
        a, b, c, d, e = lead
        for i in size:
            if i != k:
                factor = matrix[i][k]
                p, q, r, s, t = matrix[i]
                line = [
                    p - factor * a,
                    q - factor * b,
                    r - factor * c,
                    s - factor * d,
                    t - factor * e,
                ]
                line[k] = -factor / pivot
                matrix[i] = line
        matrix[k] = lead
    return matrix


@cache
def _bow_limit() -> float:
    return chi_square_limit(tables_shape.BOW_ALPHA.value, 1)
