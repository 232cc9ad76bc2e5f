"""Which pieces belong to an opening, and which one does somebody on site mean?"""

from contractor.api.problems import Problem
from jobs.openings.models import Opening
from jobs.receiving.models import Condition, Inspection, Line
from jobs.receiving.standing import LineStanding, lines_standing
from jobs.verdicts.services import unreplaced


def pieces_of(*, opening: Opening) -> list[LineStanding]:
    """Tell how each first line of an opening's goods stands, its remakes counted in."""
    every = Line.objects.filter(opening=opening).select_related("order")
    return lines_standing(lines=every)


def piece_named(*, opening: Opening, name: str) -> Line:
    """Find the first line that a number or a name means.

    Raises:
        Problem: the opening has no such piece; the hint lists those that it has.
    """
    rows = [one.line for one in pieces_of(opening=opening)]
    wanted = " ".join(name.casefold().split())
    for one in rows:
        if wanted in {one.number.casefold(), one.name.casefold()}:
            return one
    told = ", ".join(f"{one.number} {one.name}" for one in rows)
    raise Problem(
        "does_not_exist",
        f"{opening.number} has no piece {name!r}.",
        hint=f"Its pieces: {told or 'none is on order'}.",
        pointer="/piece",
    )


def look_sound(*, line: Line) -> Inspection | None:
    """Find the newest look that found a piece of a line, or of what made it good, sound."""
    own = next(one for one in pieces_of(opening=line.opening) if one.line.pk == line.pk)
    rows = Inspection.objects.filter(line__in=[own.line, *own.remade])
    rows = rows.select_related("delivery__order__job__site", "line")
    sound = [one for one in unreplaced(rows) if one.condition == Condition.SOUND]
    return max(sound, key=lambda one: (one.inspected_at, one.received_at), default=None)
