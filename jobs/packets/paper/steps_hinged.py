"""In which order is a hinged door hung on its wall?"""

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
from jobs.packets.paper.steps_cuts import cut_steps
from jobs.packets.paper.steps_shared import hands
from jobs.packets.paper.words import say


def middle(inputs: Json, verdict: Json) -> list[Step]:
    """Return the steps from the hinge side's plumb line to the bottom sweep."""
    panels = panels_in_order(verdict)
    doors = [p for p in panels if "door" in str(p.get("name")).lower()] or panels[-1:]
    fixed = [p for p in panels if p not in doors]
    return [
        _hinge_side(inputs),
        _swing(),
        *cut_steps(verdict.get("cuts") or []),
        *[_fixed(panel, verdict) for panel in fixed],
        _hinges(verdict),
        *[_door(panel, verdict) for panel in doors],
        *_closing(verdict),
    ]


def _hinge_side(inputs: Json) -> Step:
    leans = [r for r in inputs.get("readings") or [] if r.get("quantity") == "lean"]
    known = "; ".join(
        say(
            "{side} {value} over {over}",
            side=say(str(r.get("side"))),
            value=r.get("value"),
            over=r.get("over"),
        )
        for r in leans
    )
    survey = " " + say("The survey read leans of: {known}.", known=known) if known else ""
    check = say(
        "Check the hinge side for plumb over the door's whole height and find backing behind every "
        "hinge."
    )
    return step(
        check + survey,
        hold=say("hinge side plumb and backed"),
        record=say("Out of plumb by"),
        caution=say(
            "The whole door hangs here. An anchor in a hollow wall or in tile alone never "
            "carries it: without backing, stop."
        ),
    )


def _swing() -> Step:
    return step(
        say(
            "Swing a card the door's width: it must clear toilet, vanity, towel bar and room door. "
            "The door must open outward; it may open inward too."
        ),
        record=say("Swing clear: yes / no"),
    )


def _fixed(panel: Json, verdict: Json) -> Step:
    return step(
        say(
            "Set {panel} first: setting blocks under it, plumb, in its channel or clamps, held until "
            "it stands by itself.",
            panel=panel_words(panel),
        ),
        caution=hands(verdict),
    )


def _hinges(verdict: Json) -> Step:
    fixings = fixings_at(verdict, "hinge")
    return step(
        f"{say('Hinges to the wall. Seal each hole, then screw.')} {drill_lines(fixings)}",
        caution=drilling_cautions(fixings),
    )


def _door(panel: Json, verdict: Json) -> Step:
    care = say(
        "Nobody lets go before every hinge screw is tight. Gaskets between metal and glass at each "
        "hinge."
    )
    return step(
        say(
            "Stand {panel} on blocks at its running gap, hinge screws snug. Read the gap at head, "
            "middle and foot on both sides; then tighten the screws in turn.",
            panel=panel_words(panel),
        ),
        hold=say("door aligned and closing"),
        record=say("Gaps head / middle / foot"),
        caution=f"{hands(verdict)} {care}",
    )


def _closing(verdict: Json) -> list[Step]:
    fixings = fixings_at(verdict, "strike", "strip")
    return [
        step(
            f"{say('Set the strike strip from the hung door.')} {drill_lines(fixings)}",
            caution=drilling_cautions(fixings),
        ),
        step(
            say(
                "Trim the bottom sweep so that it just touches; drip edge inward. Corner guards come "
                "off last."
            ),
            hold=say("seals on"),
            record=say("Door swings free: yes / no"),
        ),
    ]
