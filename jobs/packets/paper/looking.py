"""What does a follow-up visit look at?"""

from typing import Any

from jobs.packets.paper.handing import care_page
from jobs.packets.paper.opening import kit_line
from jobs.packets.paper.phrases import Json, listed, panel_words, panels_in_order, told
from jobs.packets.paper.words import say


def looking_page(opening: Json) -> dict[str, Any]:
    """Return the list of what to look at, for this kind of door and its runs of sealant."""
    inputs, verdict = opening.get("inputs") or {}, opening.get("verdict") or {}
    kind = str((inputs.get("sheet") or {}).get("kind"))
    return {
        **care_page(opening),
        "kit": kit_line(opening.get("kit"), verdict),
        "looks": [*_door(kind), *_seals(verdict), *_glass(verdict), *_water()],
        "snags": [str(one) for one in opening.get("snags") or []],
    }


def look(what: str, good: str) -> dict[str, str]:
    """Return one thing to look at and what is right."""
    return {"what": what, "good": good}


def _door(kind: str) -> list[dict[str, str]]:
    if kind == "hinged_door":
        return [
            look(say("Alignment"), say("Gaps even at head, middle and foot on both sides; the door stays where it is let go or closes by itself, as the kit's sheet says.")),
            look(say("Hinges"), say("Every screw tight, gaskets between metal and glass, no rust, no play when the door is lifted at its handle.")),
            look(say("Swing"), say("Opens outward freely; nothing new stands in its way.")),
        ]
    if kind == "fixed_screen":
        return [
            look(say("Alignment"), say("Panel plumb, no movement when it is pressed at the free edge.")),
            look(say("Channel and stay"), say("Screws tight, blocks in place, no metal on glass.")),
        ]
    return [
        look(say("Alignment"), say("Doors parallel to the side strips over their whole height; rail level; doors run free and close.")),
        look(say("Rollers and catches"), say("Nuts tight, bushings in, each catch turned in under the rail: lift every door by hand, it must not come off.")),
        look(say("Guide"), say("Screws tight, both doors run in their tracks, nothing rubs on glass.")),
    ]


def _seals(verdict: Json) -> list[dict[str, str]]:
    runs = listed(told(str(s.get("run"))) for s in verdict.get("sealant") or [])
    where = say("Along {runs}: ", runs=runs) if runs else ""
    return [
        look(say("Bead"), where + say("whole, stuck on both sides, no gap, no mould; nothing blocks the way out for water.")),
        look(say("Seals and strips"), say("Sitting, not torn, clear of rail and guide; the drip edge points inward.")),
    ]


def _glass(verdict: Json) -> list[dict[str, str]]:
    panels = listed(panel_words(p) for p in panels_in_order(verdict)) or say("every panel")
    return [
        look(say("Glass"), say("{panels}: edges, corners and holes without a chip; the tempering label can be read.", panels=panels)),
        look(say("Handle"), say("Tight by hand, gaskets on, nobody hangs anything but a towel on it.")),
    ]


def _water() -> list[dict[str, str]]:
    return [
        look(say("Leak test"), say("Run the shower onto the glass for some minutes; dry paper along the foot and both jambs outside stays dry.")),
    ]
