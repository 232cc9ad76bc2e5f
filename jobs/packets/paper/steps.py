"""In which order is this opening's door hung, and where does the crew stop and check?"""

from collections.abc import Callable

from jobs.packets.paper import steps_hinged, steps_screen, steps_shared, steps_slider
from jobs.packets.paper.phrases import Json, Step, step
from jobs.packets.paper.words import say

KINDS: dict[str, Callable[[Json, Json], list[Step]]] = {
    "bypass_slider": steps_slider.middle,
    "single_slider": steps_slider.middle,
    "hinged_door": steps_hinged.middle,
    "fixed_screen": steps_screen.middle,
}


def steps_for(inputs: Json, verdict: Json) -> list[Step]:
    """Return the order of work for one opening: text, hold point, what to record, caution.

    Common practice, no source; what the kit's own sheet says stands first and outranks it.
    """
    kind = str((inputs.get("sheet") or {}).get("kind"))
    middle = KINDS.get(kind)
    if middle is None:
        ask = say(
            "QUESTION: what kind of door is this? No order of work is written until it is known."
        )
        return [step(ask, hold=say("stop"), record=say("Kind of door"))]
    return [
        *steps_shared.beginning(inputs, verdict),
        *middle(inputs, verdict),
        *steps_shared.ending(inputs, verdict),
    ]


def sheet_steps(inputs: Json) -> list[Step]:
    """Return what the kit's sheet itself says about the order, verbatim, with its page."""
    steps = (inputs.get("sheet") or {}).get("steps") or []
    return [
        step(say("{text} (page {page})", text=s.get("text"), page=s.get("page"))) for s in steps
    ]
