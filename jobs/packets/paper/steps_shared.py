"""Which steps begin and end every job, whatever the door?"""

from fitcheck.drawings.captions import of_quantity
from fitcheck.drawings.facts import SIDES, is_masonry
from fitcheck.drawings.measures import length_nm
from jobs.packets.paper.phrases import (
    Json,
    Step,
    handle_side,
    listed,
    panel_words,
    panels_in_order,
    step,
    words,
)
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say


def beginning(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the door of the room to the first mark on a wall."""
    return [_cover(), _glass(verdict), _reread(inputs, verdict), _backing(inputs)]


def ending(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the handle to the customer's signature."""
    return [*_bead(verdict), *_handles(inputs), _water_test(), _handed_over()]


def _water_test() -> Step:
    return step(
        say(
            "Water test as soon as the sealant's own sheet allows water, at the follow-up if that "
            "is not today: run the shower onto the glass, look outside at the foot and both jambs. "
            "Tell the customer when the first shower may be; put up the cure notice."
        ),
        record=say("Dry outside: yes / no / at follow-up"),
        caution=say("No water on a fresh bead: it lifts, and the wall behind it gets wet."),
    )


def _handed_over() -> Step:
    return step(
        say(
            "Show the tempering label in the corner of each panel, go through the care sheet, get "
            "the signature on the last page."
        ),
        hold=say("label and care handed over"),
        record=say("Name of the customer"),
    )


def _handles(inputs: Json) -> list[Step]:
    if (inputs.get("sheet") or {}).get("kind") == "fixed_screen":
        return []  # nothing on it is pulled
    return [
        step(
            say(
                "Put the handles on, with every gasket between metal and glass, on {side}. Tighten by "
                "hand, then a quarter turn; no more.",
                side=handle_side(inputs),
            ),
            caution=say("Metal that touches glass will break it, perhaps weeks later."),
        )
    ]


def _cover() -> Step:
    return step(
        say(
            "Cover the floor and the tub or base; tape over the drain. Lay soft rests against a wall "
            "for the glass. Count the parts against the kit's list before anything is opened further."
        )
    )


def _glass(verdict: Json) -> Step:
    panels = panels_in_order(verdict)
    names = listed(panel_words(p) for p in panels) or say("every panel")
    never = say(
        "Never on a hard floor, never by a corner. Stay out of its fall path. Tempered glass is "
        "never cut, drilled or edged."
    )
    return step(
        say(
            "Look over {panels}: edges, corners, holes, tempering label. Corner guards stay on. A "
            "chipped panel is photographed and not hung.",
            panels=names,
        ),
        hold=say("glass inspected"),
        record=say("Chips: none / where"),
        caution=f"{hands(verdict)} {never}",
    )


def hands(verdict: Json) -> str:
    """Return how many people a panel takes, as the verdict says."""
    needed = verdict.get("hands_needed")
    if needed:
        return say("{n} people for every panel.", n=needed)
    return say("Two people for every panel at least.")


def _reread(inputs: Json, verdict: Json) -> Step:
    widths = [r for r in inputs.get("readings") or [] if r.get("quantity") == "width"]
    by_height: dict[str, list[str]] = {}
    for reading in widths:
        by_height.setdefault(str(reading.get("height")), []).append(str(reading.get("value")))
    known = listed(
        say("{values} at {height}", values=listed(vs), height=h) for h, vs in by_height.items()
    )
    survey = say("QUESTION: the survey has no width at all.")
    if known:
        survey = say("The survey read {known}.", known=known)
    again = say("Read the opening again at the survey's heights.")
    return step(
        f"{again} {survey} {_tolerance(verdict)}",
        hold=say("opening agrees with the survey"),
        record=say("Widths read today"),
    )


def _tolerance(verdict: Json) -> str:
    """Return by how much a width may have moved before the verdict and the cuts no longer stand."""
    spare = [
        f["margin"]
        for f in verdict.get("findings") or []
        if str(f.get("rule")).startswith("width") and (length_nm(f.get("margin")) or -1) >= 0
    ]
    spare += [c["allowance"] for c in verdict.get("cuts") or [] if c.get("allowance")]
    if not spare:
        return say("If a width has changed at all, stop and ring the office.")
    least = words(min(spare, key=lambda value: length_nm(value) or 0))
    return say(
        "Stop and ring the office if a width has changed by as much as {least}: no margin on widths "
        "and no end cover leaves less.",
        least=least,
    )


def _backing(inputs: Json) -> Step:
    readings = [r for r in inputs.get("readings") or [] if r.get("quantity") == "backing_centre"]
    known = listed(
        say(
            "{value} on the {side} at {height}",
            value=r.get("value"),
            side=say(str(r.get("side"))),
            height=r.get("height"),
        )
        for r in readings
    )
    survey = say("QUESTION: nobody has found it yet.")
    if known:
        survey = say("The survey found it {known}.", known=known)
    centre = say(
        "Find the centre of stud or blocking and draw it at sill and head height on both walls, "
        "measured from the sill's outer edge."
    )
    masonry = [side for side in SIDES if is_masonry(inputs, side)]
    framed = [] if len(masonry) == len(SIDES) else [f"{centre} {survey}{_asked(inputs)}"]
    return step(
        " ".join([*framed, *(_in_masonry(inputs, side) for side in masonry)]),
        hold=say("backing marked both sides, services located"),
        record=say("Left / right, from outer edge"),
        caution=say(
            "Locate water, waste and electric lines before the first hole. If one is near, a "
            "licensed plumber or electrician decides, not this paper."
        ),
    )


def _in_masonry(inputs: Json, side: str) -> str:
    """Say that a wall has no stud to be found, and how far the survey read the holes off its edge."""
    wall = say(
        "The {side} wall is masonry, no stud is to be found: mark its holes by the schedule.",
        side=say(side),
    )
    read = [
        say("{value} at {height}", value=r.get("value"), height=r.get("height"))
        for r in of_quantity(inputs, "masonry_edge", side)
    ]
    if not read:
        return wall
    return f"{wall} " + say(
        "Its free edge is off them by {known}, as surveyed.", known=listed(read)
    )


def _asked(inputs: Json) -> str:
    """Return how far in the sheet wants the backing, when it says so."""
    rules = (inputs.get("sheet") or {}).get("backing") or []
    asks = listed(
        say(
            "at least {least} for the {place} at {height}",
            least=r["setback_least"],
            place=told(str(r.get("place"))),
            height=r.get("height"),
        )
        for r in rules
        if r.get("setback_least")
    )
    return " " + say("The sheet asks {asks}.", asks=asks) if asks else ""


def _bead(verdict: Json) -> list[Step]:
    inside = [s for s in verdict.get("sealant") or [] if s.get("side") == "inside"]
    outside = [s for s in verdict.get("sealant") or [] if s.get("side") == "outside"]
    runs = listed(
        say(
            "{run} ({bead} bead, {length})",
            run=told(str(s.get("run"))),
            bead=s.get("bead"),
            length=words(s.get("length")),
        )
        for s in inside
    )
    where = say("Bead on the inside only, where the kit's sheet shows it.")
    if runs:
        where = say("Bead: {runs}.", runs=runs)
    out = listed(told(str(s.get("run"))) for s in outside)
    rest = (
        say("The sheet asks for these outside: {runs}.", runs=out)
        if out
        else say("No bead outside.")
    )
    drain = say("Leave the way out for water open. Surfaces clean and dry; tool once.")
    return [
        step(
            f"{where} {rest} {drain}",
            hold=say("bead run, water can drain"),
            record=say("Time the bead was finished"),
        )
    ]
