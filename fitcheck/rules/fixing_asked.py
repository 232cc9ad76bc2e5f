"""What does the wall behind a bracket say: wood, steel, masonry, or nothing that carries?"""

from dataclasses import replace

from fitcheck.rules.drilling import MASONRY
from fitcheck.rules.fixing_apart import not_apart, not_turned
from fitcheck.rules.fixing_held import FixingHeld, settled, settled_in_wood
from fitcheck.rules.fixing_in_masonry import in_masonry
from fitcheck.rules.fixing_in_stud import in_stud
from fitcheck.rules.fixing_in_wood import in_wood, used_in_wood
from fitcheck.rules.fixing_loads import fixing_seated
from fitcheck.rules.fixing_seat import NO_WALL, NOTHING, Asking
from fitcheck.rules.fixing_unseated import in_wood_unseated
from fitcheck.rules.framing import THICKNESS, WOOD
from fitcheck.rules.holes import FixingAnswer, held_back
from fitcheck.rules.stack import stack_of
from fitcheck.rules.substrates import Spot


def fixing_asked(spot: Spot, answer: FixingAnswer, asking: Asking) -> FixingHeld:
    """Work out what the worst screw or anchor of one place gets, and compare it with what it holds there.

    Source: NDS 2018 and TR12 in wood, AISI S100 in steel, the evaluation report in masonry.

    Args:
        spot: the place with its zone [-].
        answer: its row of the fastener schedule [-].
        asking: sheet, readings, panels, rail and settings [-].

    Returns:
        Load, capacity, share, findings and the row; nothing is told that the sheet leaves out [-].
    """
    held = _held(spot, answer, asking)
    back = held_back(held.answer, asking.house)
    if asking.house.rules >= 5:
        more = (*not_turned(spot), *not_apart(spot, answer.fixing.screw_size, asking.house))
        if more:
            row = replace(back.fixing, cautions=(*back.fixing.cautions, *more))
            back = FixingAnswer(row, back.findings)
    return held if back is held.answer else replace(held, answer=back)


def _held(spot: Spot, answer: FixingAnswer, asking: Asking) -> FixingHeld:
    load, seat = fixing_seated(spot, answer.fixing, asking)
    if seat is None and asking.house.rules >= 5 and _in_wood_unseated(spot):
        return in_wood_unseated(spot, answer, load, asking.house)
    if seat is None:
        return FixingHeld(load, _thickness_asked(spot, answer))
    base = seat.zone.structure
    if base in WOOD:
        row, found = in_wood(load, seat, asking)
        if asking.house.rules >= 5:
            answer = settled_in_wood(answer, found)
        return FixingHeld(row, answer, found, *used_in_wood(load, seat, asking.house.rules))
    if base == "steel_stud":
        return in_stud(load, seat, answer, asking)
    if base in MASONRY:
        return in_masonry(load, seat, answer, asking)
    return FixingHeld(replace(load, why=NOTHING if base == "none" else NO_WALL), answer)


def _in_wood_unseated(spot: Spot) -> bool:
    """Return whether wood gets a load of which the sheet does not say how it comes to the screw."""
    wood = spot.zone is not None and spot.zone.structure in WOOD
    return wood and spot.fixing.bracket is None and spot.fixing.load_n is not None


def _thickness_asked(spot: Spot, answer: FixingAnswer) -> FixingAnswer:
    """Ask how thick the finish is where steel or masonry waits for that alone."""
    zone, fixing = spot.zone, answer.fixing
    if zone is None or spot.fixing.bracket is None or fixing.stack_nm is not None:
        return answer
    if zone.fit == "hollow" or stack_of(zone) is not None:
        return answer
    if zone.structure not in {"steel_stud", *MASONRY}:
        return answer
    reaches = "masonry" if zone.structure in MASONRY else "steel"
    return settled(answer, (), reaches, THICKNESS, fixing)
