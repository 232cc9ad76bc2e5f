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
from jobs.packets.paper.steps_cuts import cut_step, cut_steps
from jobs.packets.paper.steps_shared import hands


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
        *_closing(inputs),
    ]


def _rails(verdict: Json) -> list[Json]:
    return [c for c in verdict.get("cuts") or [] if c.get("from") == "between_brackets"]


def _brackets(inputs: Json, verdict: Json) -> list[Step]:
    height = (inputs.get("sheet") or {}).get("rail_height") or "the height in the kit's sheet"
    fixings = fixings_at(verdict, "bracket", "collar", "rail")
    return [
        step(
            f"Draw one level line right round at {height} above the sill. Set out the bracket "
            f"holes from the line, not from the wall. Seal each hole, then screw. "
            f"{drill_lines(fixings)}",
            caution=drilling_cautions(fixings),
        ),
        step(
            "Read between the inside faces of the fixed brackets. One reads and calls, the other "
            "reads without hearing. Write both in the cut list.",
            hold="Hold: brackets fixed, as-fixed distance read",
            record="Reader 1 / reader 2",
        ),
    ]


def _rollers(inputs: Json) -> Step:
    pairs = "inner pair first, then the outer pair"
    if (inputs.get("sheet") or {}).get("kind") == "single_slider":
        pairs = "both of the door's rollers, wheel side as the kit's sheet shows"
    return step(
        f"Put the rollers on the rail, {pairs}. Lift the rail into its brackets, collars home, "
        "and read the level again.",
        record="Level over the rail",
    )


def _guide(verdict: Json) -> Step:
    fixings = fixings_at(verdict, "guide")
    return step(
        "Find the middle of the opening at the sill and set the centre guide there; seal it. "
        f"{drill_lines(fixings)}",
        caution=drilling_cautions(fixings),
    )


def _panels(verdict: Json) -> list[Step]:
    steps = [_panel(panel, verdict) for panel in panels_in_order(verdict)]
    steps.append(
        step(
            "Turn each catch in under the rail. Lift every door by hand: it must not come off.",
            hold="Hold: catches and bushings in",
            record="Photo taken: yes / no",
            caution="A door without its catch can jump the rail and fall on someone.",
        )
    )
    return steps


def _panel(panel: Json, verdict: Json) -> Step:
    people = panel.get("hands") or 2
    handing = panel.get("handing")
    face = f" {str(handing).capitalize()}." if handing not in (None, "none", "") else ""
    if "fixed" in str(panel.get("name")).lower():
        return step(
            f"Set {panel_words(panel)}, {people} people. Setting blocks under it, plumb, in its "
            f"channel or clamps, held until it stands by itself.{face}",
            caution=hands(verdict),
        )
    return step(
        f"Hang {panel_words(panel)}, {people} people. Channel on the bottom edge, bushings "
        f"between metal and glass.{face} Foot into its track of the guide first, then the "
        "top onto its rollers, nuts by hand until the door is straight.",
        caution=hands(verdict),
    )


def _strips(verdict: Json) -> list[Step]:
    fixings = fixings_at(verdict, "strip", "jamb")
    return [
        step(
            "Place the side strips from the hung door, not from the wall: close the door, mark, "
            f"open, drill. {drill_lines(fixings)}",
            caution=drilling_cautions(fixings),
        )
    ]


def _closing(inputs: Json) -> list[Step]:
    return [
        step(
            "Bring the doors parallel to the strips with the eccentric bushings, then tighten the "
            "roller nuts.",
            hold="Hold: doors aligned and closing",
            record="Gap head / foot",
        ),
        step(
            "Trim the meeting seals clear of rail and guide and press them on. Corner guards come "
            "off last.",
            hold="Hold: seals on",
            record="Doors run free: yes / no",
        ),
    ]
