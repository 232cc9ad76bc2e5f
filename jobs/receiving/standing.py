"""How do a job's goods stand: expected, here, sound? Worked out from inspections that nobody replaced."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.models import Condition, Inspection, Line, OrderState
from jobs.verdicts.services import unreplaced

AMISS = (Condition.DAMAGED.value, Condition.WRONG.value)


@dataclass(frozen=True, slots=True)
class GoodsStanding:
    """Whether goods are expected, all here and sound, which are not sound, and why it stands so."""

    expected: bool
    received: bool
    damaged: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class LineStanding:
    """What came of one line, its remakes counted in: sound, amiss (damaged or wrong), still to come."""

    line: Line
    sound: int
    found: dict[str, int]
    remade: tuple[Line, ...]

    @property
    def missing(self) -> int:
        """How many are not here and sound [-]."""
        return max(self.line.count - self.sound, 0)

    @property
    def amiss(self) -> bool:
        """Whether a piece came damaged or wrong and no sound one has come since."""
        return bool(self.missing) and any(self.found.get(one) for one in AMISS)

    @property
    def state(self) -> str:
        """In one word: sound, damaged, wrong, short, or awaited."""
        if not self.missing:
            return Condition.SOUND.value
        for one in (*AMISS, Condition.SHORT.value):
            if self.found.get(one):
                return one
        return "awaited"

    def says(self) -> str:
        """In words for a person."""
        told = f"{self.line.name} of O-{self.line.opening_id:04d}: {self.state}"
        again = ", ".join(f"OR-{one.order_id:04d}" for one in self.remade)
        return f"{told}, ordered anew ({again})" if again and self.missing else told


def lines_standing(*, lines: Iterable[Line]) -> list[LineStanding]:
    """Tell how each first line stands; `lines` are all lines of whole jobs, remakes too."""
    every = [one for one in lines if one.order.state == OrderState.PLACED]
    rows: dict[int, list[Inspection]] = {}
    for row in unreplaced(Inspection.objects.filter(line__in=every)):
        rows.setdefault(row.line_id, []).append(row)
    remakes: dict[int, list[Line]] = {}
    for one in every:
        if one.remakes_id is not None:
            remakes.setdefault(one.remakes_id, []).append(one)
    return [_standing(one, _family(one, remakes), rows) for one in every if one.remakes_id is None]


def pieces_anew(standing: Iterable[LineStanding]) -> list[dict[str, Any]]:
    """Tell what must come anew, as an order takes it: of each line found amiss as many as are missing."""
    return [piece_anew(one.line, one.missing) for one in standing if one.missing and one.found]


def piece_anew(line: Line, count: int) -> dict[str, Any]:
    """Tell so many of a line as an order takes them; they make good that line."""
    names = ("opening", "what", "name", "size", "mass", "sheet")
    return {"remakes": line, "count": count, **{name: getattr(line, name) for name in names}}


def _family(line: Line, remakes: dict[int, list[Line]]) -> list[Line]:
    """The line, what makes it good, what makes that good."""
    found = [line]
    for one in found:
        found += remakes.get(one.pk, [])
    return found


def _standing(line: Line, family: list[Line], rows: Mapping[int, list[Inspection]]) -> LineStanding:
    found: dict[str, int] = {}
    for row in (row for one in family for row in rows.get(one.pk, [])):
        found[row.condition] = found.get(row.condition, 0) + row.count
    return LineStanding(line, found.get(Condition.SOUND.value, 0), found, tuple(family[1:]))


def goods_standing(*, job: Job) -> GoodsStanding:
    """Tell whether a job's goods are expected, received and sound, and what is damaged."""
    lines = Line.objects.filter(order__job=job, opening__dropped_why="").select_related("order")
    standing = lines_standing(lines=lines)
    if not standing:
        return GoodsStanding(False, False, (), "Nothing is ordered.")
    damaged = tuple(one.says() for one in standing if one.amiss)
    waiting = [one.says() for one in standing if one.missing and not one.amiss]
    if not damaged and not waiting:
        return GoodsStanding(True, True, (), "Everything is here and sound.")
    parts = []
    if damaged:
        parts.append(f"Not sound: {'; '.join(damaged)}.")
    if waiting:
        parts.append(f"Not here: {'; '.join(waiting)}.")
    return GoodsStanding(True, False, damaged, " ".join(parts))


def openings_without_order(*, openings: list[Opening]) -> list[str]:
    """Name the openings for whose kit, as now decided, nothing is on order."""
    lines = Line.objects.filter(
        opening__in=openings, order__state=OrderState.PLACED, remakes=None
    ).select_related("sheet")
    has = {(one.opening_id, one.sheet.kit_id if one.sheet else None) for one in lines}
    return [one.number for one in openings if not {(one.pk, one.kit_id), (one.pk, None)} & has]
