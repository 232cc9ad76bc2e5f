"""In which order is a fixed screen set?"""

from jobs.packets.paper.phrases import (
    Json,
    Step,
    drill_lines,
    drilling_cautions,
    fixings_at,
    listed,
    panel_words,
    panels_in_order,
    step,
)
from jobs.packets.paper.steps_cuts import cut_steps
from jobs.packets.paper.steps_shared import hands
from jobs.packets.paper.words import say


def middle(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the wall channel to the stay."""
    channel = fixings_at(verdict, "channel", "profile")
    stay = fixings_at(verdict, "stay", "clip", "brace", "bar")
    glass = listed(panel_words(p) for p in panels_in_order(verdict)) or say("the panel")
    plumb = say(
        "Set the wall channel plumb; pack it where the wall leans away, so that the glass and not "
        "the wall is followed."
    )
    return [
        *cut_steps(verdict.get("cuts") or []),
        step(
            f"{plumb} {drill_lines(channel)}",
            hold=say("channel plumb on its backing"),
            record=say("Packing, and where"),
            caution=drilling_cautions(channel),
        ),
        step(
            say(
                "Lift {glass} onto setting blocks and into the channel. One of you holds it now.",
                glass=glass,
            ),
            caution=f"{hands(verdict)} {say('Nobody lets go yet.')}",
        ),
        step(
            f"{say('Fix the stay bar or head clip to backing before anyone lets go.')} "
            f"{drill_lines(stay)}",
            hold=say("panel held at the head"),
            record=say("Stands without a hand: yes / no"),
            caution=drilling_cautions(stay),
        ),
        step(
            say("Leave the panel braced until the bead has cured."), record=say("Brace stays until")
        ),
    ]
