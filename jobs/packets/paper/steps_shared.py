"""Which steps begin and end every job, whatever the door?"""

from fitcheck.drawings.measures import length_nm, words
from jobs.packets.paper.phrases import (
    Json,
    Step,
    handle_side,
    listed,
    panel_words,
    panels_in_order,
    step,
)


def beginning(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the door of the room to the first mark on a wall."""
    return [_cover(), _glass(verdict), _reread(inputs, verdict), _backing(inputs)]


def ending(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the handle to the customer's signature."""
    return [
        *_bead(verdict),
        *_handles(inputs),
        step(
            "Water test as soon as the sealant's own sheet allows water, at the follow-up if that "
            "is not today: run the shower onto the glass, look outside at the foot and both jambs. "
            "Tell the customer when the first shower may be; put up the cure notice.",
            record="Dry outside: yes / no / at follow-up",
            caution="No water on a fresh bead: it lifts, and the wall behind it gets wet.",
        ),
        step(
            "Show the tempering label in the corner of each panel, go through the care sheet, get "
            "the signature on the last page.",
            hold="Hold: label and care handed over",
            record="Name of the customer",
        ),
    ]


def _handles(inputs: Json) -> list[Step]:
    if (inputs.get("sheet") or {}).get("kind") == "fixed_screen":
        return []  # nothing on it is pulled
    return [
        step(
            f"Put the handles on, with every gasket between metal and glass, on "
            f"{handle_side(inputs)}. Tighten by hand, then a quarter turn; no more.",
            caution="Metal that touches glass will break it, perhaps weeks later.",
        )
    ]


def _cover() -> Step:
    return step(
        "Cover the floor and the tub or base; tape over the drain. Lay soft rests against a wall "
        "for the glass. Count the parts against the kit's list before anything is opened further."
    )


def _glass(verdict: Json) -> Step:
    panels = panels_in_order(verdict)
    names = listed(panel_words(p) for p in panels) or "every panel"
    return step(
        f"Look over {names}: edges, corners, holes, tempering label. Corner guards stay on. A "
        "chipped panel is photographed and not hung.",
        hold="Hold: glass inspected",
        record="Chips: none / where",
        caution=f"{hands(verdict)} Never on a hard floor, never by a corner. Stay out of its fall "
        "path. Tempered glass is never cut, drilled or edged.",
    )


def hands(verdict: Json) -> str:
    """Return how many people a panel takes, as the verdict says."""
    needed = verdict.get("hands_needed")
    return f"{needed} people for every panel." if needed else "Two people for every panel at least."


def _reread(inputs: Json, verdict: Json) -> Step:
    widths = [r for r in inputs.get("readings") or [] if r.get("quantity") == "width"]
    by_height: dict[str, list[str]] = {}
    for reading in widths:
        by_height.setdefault(str(reading.get("height")), []).append(str(reading.get("value")))
    known = listed(f"{' and '.join(vs)} at {h}" for h, vs in by_height.items())
    survey = f"The survey read {known}." if known else "QUESTION: the survey has no width at all."
    return step(
        f"Read the opening again at the survey's heights. {survey} {_tolerance(verdict)}",
        hold="Hold: opening agrees with the survey",
        record="Widths read today",
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
        return "If a width has changed at all, stop and ring the office."
    least = words(min(spare, key=lambda value: length_nm(value) or 0))
    return (
        f"Stop and ring the office if a width has changed by as much as {least}: no margin on "
        "widths and no end cover leaves less."
    )


def _backing(inputs: Json) -> Step:
    readings = [r for r in inputs.get("readings") or [] if r.get("quantity") == "backing_centre"]
    known = listed(
        f"{r.get('value')} on the {r.get('side')} at {r.get('height')}" for r in readings
    )
    survey = f"The survey found it {known}." if known else "QUESTION: nobody has found it yet."
    rules = (inputs.get("sheet") or {}).get("backing") or []
    asks = listed(
        f"at least {r.get('setback_least')} for the {r.get('place')} at {r.get('height')}"
        for r in rules
        if r.get("setback_least")
    )
    sheet = f" The sheet asks {asks}." if asks else ""
    return step(
        "Find the centre of stud or blocking and draw it at sill and head height on both walls, "
        f"measured from the sill's outer edge. {survey}{sheet}",
        hold="Hold: backing marked both sides, services located",
        record="Left / right, from outer edge",
        caution="Locate water, waste and electric lines before the first hole. If one is near, a "
        "licensed plumber or electrician decides, not this paper.",
    )


def _bead(verdict: Json) -> list[Step]:
    inside = [s for s in verdict.get("sealant") or [] if s.get("side") == "inside"]
    outside = [s for s in verdict.get("sealant") or [] if s.get("side") == "outside"]
    runs = listed(
        f"{s.get('run')} ({s.get('bead')} bead, {words(s.get('length'))})" for s in inside
    )
    where = f"Bead: {runs}." if runs else "Bead on the inside only, where the kit's sheet shows it."
    out = listed(str(s.get("run")) for s in outside)
    rest = f" The sheet asks for these outside: {out}." if out else " No bead outside."
    return [
        step(
            f"{where}{rest} Leave the way out for water open. Surfaces clean and dry; tool once.",
            hold="Hold: bead run, water can drain",
            record="Time the bead was finished",
        )
    ]
