"""What does a follow-up visit look at?"""

from typing import Any

from jobs.packets.paper.handing import care_page
from jobs.packets.paper.opening import kit_line
from jobs.packets.paper.phrases import Json, listed, panel_words, panels_in_order
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say

HINGED = noted(
    {
        "Alignment": "Gaps even at head, middle and foot on both sides; the door closes as the kit's "
        "sheet says.",
        "Hinges": "Every screw tight, gaskets between metal and glass, no rust, no play when the door "
        "is lifted at its handle.",
        "Swing": "Opens outward freely; nothing new stands in its way.",
    }
)
SCREEN = noted(
    {
        "Alignment": "Panel plumb, no movement when it is pressed at the free edge.",
        "Channel and stay": "Screws tight, blocks in place, no metal on glass.",
    }
)
SLIDER = noted(
    {
        "Alignment": "Doors parallel to the side strips over their whole height; rail level; doors run "
        "free and close.",
        "Rollers and catches": "Nuts tight, bushings in, each catch turned in under the rail: lift "
        "every door by hand, it must not come off.",
        "Guide": "Screws tight, both doors run in their tracks, nothing rubs on glass.",
    }
)
EVERY = noted(
    {
        "Seals and strips": "Sitting, not torn, clear of rail and guide; the drip edge points inward.",
        "Handle": "Tight by hand, gaskets on, nobody hangs anything but a towel on it.",
        "Leak test": "Run the shower onto the glass for some minutes; dry paper along the foot and "
        "both jambs outside stays dry.",
    }
)
DOORS = {"hinged_door": HINGED, "fixed_screen": SCREEN}


def looking_page(opening: Json) -> dict[str, Any]:
    """Return the list of what to look at, for this kind of door and its runs of sealant."""
    inputs, verdict = opening.get("inputs") or {}, opening.get("verdict") or {}
    kind = str((inputs.get("sheet") or {}).get("kind"))
    every = {k: v for k, v in EVERY.items() if k != "Handle" or kind != "fixed_screen"}
    looks = [*_looks(DOORS.get(kind, SLIDER)), _bead(verdict), _glass(verdict), *_looks(every)]
    return {
        **care_page(opening),
        "kit": kit_line(opening.get("kit"), verdict),
        "looks": looks,
        "snags": [str(one) for one in (opening.get("work") or {}).get("snags") or []],
    }


def _looks(rows: dict[str, str]) -> list[dict[str, str]]:
    return [{"what": say(what), "good": say(good)} for what, good in rows.items()]


def _bead(verdict: Json) -> dict[str, str]:
    runs = listed(told(str(s.get("run"))) for s in verdict.get("sealant") or [])
    where = say("Along {runs}:", runs=runs) + " " if runs else ""
    whole = say(
        "whole, stuck on both sides, no gap, no mould; nothing blocks the way out for water."
    )
    return {"what": say("Bead"), "good": where + whole}


def _glass(verdict: Json) -> dict[str, str]:
    panels = listed(panel_words(p) for p in panels_in_order(verdict)) or say("every panel")
    good = say(
        "{panels}: edges, corners and holes without a chip; the tempering label can be read.",
        panels=panels,
    )
    return {"what": say("Glass"), "good": good}
