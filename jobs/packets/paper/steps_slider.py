"""In which order is a slider hung on its head rail?"""

from jobs.packets.paper.phrases import (
    Json,
    Step,
    drill_lines,
    drilling_cautions,
    fixings_at,
    panel_words,
    panels_in_order,
    step,
)
from jobs.packets.paper.sentences import told
from jobs.packets.paper.steps_cuts import cut_step, cut_steps
from jobs.packets.paper.steps_shared import hands
from jobs.packets.paper.words import say


def middle(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the level line to the meeting seals."""
    cuts = verdict.get("cuts") or []
    return [
        *_brackets(inputs, verdict),
        *[cut_step(cut) for cut in _rails(verdict)],
        _rollers(inputs),
        *cut_steps([c for c in cuts if c not in _rails(verdict)]),
        _guide(verdict),
        *_panels(verdict),
        *_strips(verdict),
        *_closing(),
    ]


def _rails(verdict: Json) -> list[Json]:
    return [c for c in verdict.get("cuts") or [] if c.get("from") == "between_brackets"]


def _brackets(inputs: Json, verdict: Json) -> list[Step]:
    height = (inputs.get("sheet") or {}).get("rail_height") or say("the height in the kit's sheet")
    fixings = fixings_at(verdict, "bracket", "collar", "rail")
    line = say(
        "Draw one level line right round at {height} above the sill. Set out the bracket holes from "
        "the line, not from the wall. Seal each hole, then screw.",
        height=height,
    )
    return [
        step(f"{line} {drill_lines(fixings)}", caution=drilling_cautions(fixings)),
        step(
            say(
                "Read between the inside faces of the fixed brackets. One reads and calls, the other "
                "reads without hearing. Write both in the cut list."
            ),
            hold=say("brackets fixed, as-fixed distance read"),
            record=say("Reader 1 / reader 2"),
        ),
    ]


def _rollers(inputs: Json) -> Step:
    pairs = say("inner pair first, then the outer pair")
    if (inputs.get("sheet") or {}).get("kind") == "single_slider":
        pairs = say("both of the door's rollers, wheel side as the kit's sheet shows")
    return step(
        say(
            "Put the rollers on the rail, {pairs}. Lift the rail into its brackets, collars home, "
            "and read the level again.",
            pairs=pairs,
        ),
        record=say("Level over the rail"),
    )


def _guide(verdict: Json) -> Step:
    fixings = fixings_at(verdict, "guide")
    middle = say(
        "Find the middle of the opening at the sill and set the centre guide there; seal it."
    )
    return step(f"{middle} {drill_lines(fixings)}", caution=drilling_cautions(fixings))


def _panels(verdict: Json) -> list[Step]:
    steps = [_panel(panel, verdict) for panel in panels_in_order(verdict)]
    steps.append(
        step(
            say(
                "Turn each catch in under the rail. Lift every door by hand: it must not come off."
            ),
            hold=say("catches and bushings in"),
            record=say("Photo taken: yes / no"),
            caution=say("A door without its catch can jump the rail and fall on someone."),
        )
    )
    return steps


def _panel(panel: Json, verdict: Json) -> Step:
    people = panel.get("hands") or 2
    handing = told(str(panel.get("handing") or "none"))
    face = "" if handing == told("none") else f"{handing[0].upper()}{handing[1:]}."
    if "fixed" in str(panel.get("name")).lower():
        text = say(
            "Set {panel}, {n} people. Setting blocks under it, plumb, in its channel or clamps, held "
            "until it stands by itself. {face}",
            panel=panel_words(panel),
            n=people,
            face=face,
        )
        return step(text.strip(), caution=hands(verdict))
    text = say(
        "Hang {panel}, {n} people. Channel on the bottom edge, bushings between metal and glass. "
        "{face} Foot into its track of the guide first, then the top onto its rollers, nuts by hand "
        "until the door is straight.",
        panel=panel_words(panel),
        n=people,
        face=face,
    )
    return step(text.replace("  ", " "), caution=hands(verdict))


def _strips(verdict: Json) -> list[Step]:
    fixings = fixings_at(verdict, "strip", "jamb")
    mark = say(
        "Place the side strips from the hung door, not from the wall: close the door, mark, open, "
        "drill."
    )
    return [step(f"{mark} {drill_lines(fixings)}", caution=drilling_cautions(fixings))]


def _closing() -> list[Step]:
    return [
        step(
            say(
                "Bring the doors parallel to the strips with the eccentric bushings, then tighten the "
                "roller nuts."
            ),
            hold=say("doors aligned and closing"),
            record=say("Gap head / foot"),
        ),
        step(
            say(
                "Trim the meeting seals clear of rail and guide and press them on. Corner guards come "
                "off last."
            ),
            hold=say("seals on"),
            record=say("Doors run free: yes / no"),
        ),
    ]
