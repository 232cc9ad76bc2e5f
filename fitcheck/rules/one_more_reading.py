"""Which one more reading would help most?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.adjustment import UNDECIDED, Shape
from fitcheck.rules.finding import Need, uncertainty_text
from fitcheck.rules.least_squares import (
    Array,
    checkable,
    correlation,
    detectable,
    fit,
    mistakes_estimated,
    redundancies,
)
from fitcheck.rules.length import NM_PER_MM, Length, inch_text, length_parse, mm_text
from fitcheck.rules.quadrilateral import (
    ADJUSTED,
    UNKNOWNS,
    Observation,
    expected,
    observations,
    width_row,
)
from fitcheck.rules.readings import need_text
from fitcheck.rules.solved import Solved
from fitcheck.rules.survey import Reading, Tool
from fitcheck.rules.suspects import hardest_apart

_PLACES = (
    ("lean", "left"),
    ("lean", "right"),
    ("sill_level", "none"),
    ("diagonal", "left"),
    ("diagonal", "right"),
)
CONTRADICT = "The readings contradict each other and cannot say which is wrong; this one can."
TAKEN_OUT = "It was taken out, because the other readings contradict it."
_SPARE_LENGTH_NM = 1_500_000_000


@dataclass(frozen=True, slots=True)
class Standing:
    """How much is known of the widths that matter; less is better in every member."""

    untold: int
    muddled: float
    unchecked: int
    hidden_mm: float
    u_mm: float

    @property
    def rank(self) -> tuple[float, ...]:
        """Return the order in which readings are preferred: told, untangled, checked, sure."""
        hidden, u = round(self.hidden_mm, 2), round(self.u_mm, 3)
        return self.untold, round(self.muddled, 1), self.unchecked, hidden, u

    def as_json(self) -> dict[str, object]:
        """Return the standing as plain JSON."""
        hidden = None if self.unchecked else uncertainty_text(self.hidden_mm)
        return {
            "widths_untold": self.untold,
            "readings_unchecked": self.unchecked,
            "largest_hidden_mistake": hidden,
            "largest_uncertainty": uncertainty_text(self.u_mm) if self.u_mm else None,
        }


@dataclass(frozen=True, slots=True)
class Advice:
    """The reading to take next, why, and what it changes."""

    need: Need
    again: bool
    needed: bool
    why: str
    before: Standing
    after: Standing

    def as_json(self) -> dict[str, object]:
        """Return the advice as plain JSON."""
        return {
            "quantity": self.need.quantity,
            "side": self.need.side,
            "height": self.need.height,
            "again": self.again,
            "needed": self.needed,
            "do": f"Read {need_text(self.need)}{' again' if self.again else ''}.",
            "why": self.why,
            "before": self.before.as_json(),
            "after": self.after.as_json(),
        }


def reading_advised_at(shape: Shape, heights: Sequence[Length]) -> Advice | None:
    """Choose the reading that helps most, and say its height as it was written.

    Source: as in `reading_advised`.

    Args:
        shape: the adjusted opening [mm].
        heights: the heights whose widths matter [nm].

    Returns:
        The advice, None where no height matters [-].
    """
    if not heights:
        return None
    said = {each.nm: each.entered for each in heights}
    return reading_advised(shape, tuple(said), said)


def reading_advised(
    shape: Shape, heights_nm: tuple[int, ...], said: Mapping[int, str] | None = None
) -> Advice:
    """Choose the reading that helps most: it tells what is untold, untangles, checks, or sharpens.

    Every place that could be read, or read again, is tried in the design of the adjustment; the
    values need not be known for that. Where walls show a bow, the width midway matters too. A reading
    that was taken out is read again before any other.

    Source: derived from the adjustment: the hidden mistake is the least detectable one times what
    it does to a width that matters.

    Args:
        shape: the adjusted opening [mm].
        heights_nm: the heights whose widths matter [nm].
        said: heights as they were written, by their length [nm].

    Returns:
        The advice [-].

    Raises:
        ValueError: no height matters.
    """
    if not heights_nm:
        raise ValueError("say at which heights the widths matter")
    if shape.solved.bowed:
        heights_nm = (*heights_nm, round(shape.solved.frame.top * NM_PER_MM / 2))
    before = standing(shape, heights_nm)
    settled = _first_of_all(shape)
    if settled:
        best, why = _as_usual(settled[0]), settled[1]
        after = standing(shape, heights_nm, best)
        return Advice(_need(best, shape, said or {}), True, True, why, before, after)
    tried = [(standing(shape, heights_nm, each), each) for each in _candidates(shape, heights_nm)]
    after, best = min(tried, key=lambda pair: pair[0].rank)
    again = any(_place(best) == _place(each) for each in shape.solved.read)
    needed = bool(before.untold or before.muddled or before.unchecked)
    need = _need(best, shape, said or {})
    return Advice(need, again, needed, _why(before, after), before, after)


def _first_of_all(shape: Shape) -> tuple[Observation, str] | None:
    """Return what must be read again before anything else: what was taken out, or one place in doubt."""
    if shape.rules < 5:
        return None
    if shape.removed:
        return shape.removed[0].observation, TAKEN_OUT
    first = max(shape.suspected, key=lambda one: one.share, default=None)
    seen = [each for each in shape.solved.read if first and each.id in first.readings]
    if shape.state != UNDECIDED or len(seen) < 2 or len({_place(each) for each in seen}) > 1:
        return None
    return seen[0], CONTRADICT


def _need(best: Observation, shape: Shape, said: Mapping[int, str]) -> Need:
    height = None
    if best.height is not None and best.quantity != "diagonal":
        height = _height(best.height, shape, said)
    return Need(best.quantity, best.side, height)


def _why(before: Standing, after: Standing) -> str:
    if after.untold < before.untold:
        return "A width that matters cannot be told without it."
    if after.muddled < before.muddled:
        return CONTRADICT
    if after.unchecked < before.unchecked:
        return "A mistake in one of the readings would show nowhere else."
    if round(after.hidden_mm, 2) < round(before.hidden_mm, 2):
        return "It lowers most the mistake that could still hide."
    return "It lowers most the uncertainty of the widths that matter."


def standing(
    shape: Shape, heights_nm: tuple[int, ...], extra: Observation | None = None
) -> Standing:
    """Return how much is known of the widths that matter, with or without one more reading.

    Source: derived from the adjustment.

    Args:
        shape: the adjusted opening [mm].
        heights_nm: the heights whose widths matter [nm].
        extra: one more reading, as if it had been taken [mm].

    Returns:
        The standing [-].
    """
    solved = _with(shape.solved, extra)
    rows = [_row(solved, nm / NM_PER_MM) for nm in heights_nm]
    told = [row for row in rows if solved.along(row) is not None]
    answers = np.abs(np.array(told).reshape(len(told), len(UNKNOWNS)) @ solved.fit.gains)
    seen, least = checkable(solved.fit), detectable(solved.fit)
    read = np.array([each.quantity in ADJUSTED for each in solved.seen])
    matters = read & (answers > tables_shape.LEAST_REDUNDANCY.value).any(axis=0)
    hidden = np.where(seen, answers * np.where(seen, least, 0.0), 0.0)
    return Standing(
        untold=len(rows) - len(told),
        muddled=_muddle(shape, solved),
        unchecked=int((matters & ~seen).sum()),
        hidden_mm=float(hidden.max(initial=0.0)),
        u_mm=max((solved.doubt(row) for row in told), default=0.0),
    )


def _row(solved: Solved, height: float) -> Array:
    return width_row(height, solved.shape, solved.frame)[1]


def _with(solved: Solved, extra: Observation | None) -> Solved:
    if extra is None:
        return solved
    value, row = expected(extra, solved.shape, solved.frame)
    seen = (replace(extra, value=value), *solved.seen)
    # what is asked of the design needs no values: the residuals so far are kept, the new one is 0
    again = fit(
        np.vstack([row, solved.design]),
        np.append(0.0, -solved.fit.residuals),
        np.append(extra.sigma, solved.fit.sigmas),
        solved.fit.assumed,
    )
    return replace(solved, seen=seen, design=np.vstack([row, solved.design]), fit=again)


def _muddle(shape: Shape, solved: Solved) -> float:
    """Return how badly the suspected readings are mixed up: 0 when nothing is, towards 0 when less."""
    if shape.state != UNDECIDED:
        return 0.0
    if shape.rules >= 5:
        apart = hardest_apart(solved.fit, solved.ids, shape.suspected)
        return 1.0 / (1.0 + (apart or 0.0))
    suspects = {one for each in shape.suspected for one in each.readings}
    off = dict(
        zip((e.id for e in shape.solved.seen), mistakes_estimated(shape.solved.fit), strict=True)
    )
    numbers = [n for n, each in enumerate(solved.seen) if each.id in suspects]
    shares, adjusted = redundancies(solved.fit), solved.fit
    differences = [
        (off[solved.seen[n].id] / adjusted.sigmas[n]) ** 2
        * shares[n]
        * (1 - correlation(adjusted, n, other) ** 2)
        for n in numbers
        for other in numbers
        if n != other
    ]
    return 1.0 / (1.0 + float(min(differences, default=0.0)))


def _candidates(shape: Shape, heights_nm: tuple[int, ...]) -> list[Observation]:
    top = shape.solved.frame.top
    heights = {0.0, top / 2, top} | {nm / NM_PER_MM for nm in heights_nm}
    heights |= {e.height for e in shape.solved.read if e.quantity == "width" and e.height}
    wanted = [_usual("width", "none", height) for height in sorted(heights)]
    wanted += [_usual(quantity, side, top) for quantity, side in _PLACES]
    again = [_as_usual(e) for e in shape.solved.read if e.quantity == "ceiling_height"]
    return wanted + again


def _as_usual(each: Observation) -> Observation:
    return replace(_usual(each.quantity, each.side, each.height), over=each.over)


def _usual(quantity: str, side: str, height: float | None) -> Observation:
    """Return a reading as the firm usually takes it; its value does not matter here."""
    level = quantity in ("lean", "sill_level")
    step = tables_shape.USUAL_LEVEL_GRADUATION if level else tables_shape.USUAL_GRADUATION
    tool = Tool(
        "level" if level else "tape",
        "none" if level else tables_shape.USUAL_TOOL_CLASS.value,
        length_parse(step.value),
        hook=False,
    )
    up = None if height is None else Length(round(height * NM_PER_MM), "")
    reading = Reading(
        "one more reading",
        quantity,
        side,
        up if quantity in ("width", "diagonal") else None,
        up if quantity == "lean" else None,
        Length(_SPARE_LENGTH_NM, ""),
        tool,
        "-",
        "-",
    )
    return observations((reading,))[0]


def _place(each: Observation) -> tuple[str, str, float | None]:
    return each.quantity, each.side, each.height if each.quantity == "width" else None


def _height(mm: float, shape: Shape, said: Mapping[int, str]) -> str:
    """Say a height as somebody wrote it, else in the unit in which the others were written."""
    nm = round(mm * NM_PER_MM)
    inches = inch_text(nm, 64)
    if shape.rules < 5:
        return inches
    seen = [*shape.solved.read, *(one.observation for one in shape.removed)]
    written = {round(e.height * NM_PER_MM): e.said for e in seen if e.height is not None and e.said}
    metric = any(text.strip().endswith("m") for text in written.values())
    return said.get(nm) or written.get(nm) or (mm_text(nm) if metric else inches)
