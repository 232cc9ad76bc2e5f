"""What may be asked about an opening and kits: how surely, what would help, which of all kits?"""

from fitcheck.checks.asked_shapes import OPENING, ZONE, case_members, house, readings
from fitcheck.checks.catalogue import kits_answer
from fitcheck.checks.members import (
    anything,
    computed,
    shape,
    source,
    state,
    text,
    texts,
    whole,
)
from fitcheck.checks.question import Question

CASE = shape("CaseQuestion", "An opening, and a kit or a sheet of your own.", **case_members())
CHANCE = Question(
    "chance",
    "How surely does it fit?",
    "The probability of the whole.",
    "Gives the probability that every limit of the kit's sheet is truly kept at once, with bounds "
    "that need no assumption, and names the limit that weakens it most.",
    "whole_chance",
    asks=CASE,
    tells=shape(
        "ChanceAnswer",
        "The chance of the whole.",
        chance=text("Null while something is unknown. Rounded down.", allow_null=True),
        standard_error=text("From the draws alone.", allow_null=True),
        at_least=text("Whatever hangs together."),
        at_most=text("Whatever hangs together."),
        limits=whole("How many limits were in doubt."),
        unknown=whole("How many could not be answered."),
        weakest=shape(
            "WeakestLimit",
            "The limit most likely to be broken.",
            rule=text(),
            place=text(),
            chance=text(allow_null=True),
            do=text(),
        )(allow_null=True),
        draws=whole("How many worlds were drawn; 0 when none had to be."),
        seed=whole("The same question has the same answer."),
        correlation=text("How the limits were taken to hang together."),
        source=source(),
        why=text("Why there is no chance: what to read or ask first.", allow_null=True),
    ),
    by_kit=True,
)
LEAST_CHANGE = Question(
    "least-change",
    "What would make it fit?",
    "What limits, and by how much.",
    "Names the limiting reading, what to fur out, shim, level or grind and by how much, and how the "
    "other sizes of the kit stand.",
    "least_change",
    asks=CASE,
    tells=shape(
        "LeastChangeAnswer",
        "What limits, what to change, and the other sizes.",
        limiting=shape(
            "Limiting", "What limits most.", rule=text(), place=text(), readings=texts(), do=text()
        )(allow_null=True),
        changes=shape(
            "Change",
            "One thing to do.",
            rule=text(),
            place=text(),
            kind=text("What is done: shim, fur_out, grind, level, block, choose, read, …"),
            amount=computed("Rounded up, past the guard band.", allow_null=True),
            do=text(),
            readings=texts(),
            state=state(),
        )(many=True),
        packing=shape(
            "WallPacking",
            "Both walls together, straight from sill to top.",
            at_sill=computed(),
            at_top=computed(),
            top=text(),
            do=text(),
        )(allow_null=True),
        other_sizes=shape(
            "OtherSize",
            "Another size of the kit.",
            size=text(),
            state=state(),
            least_margin=computed(allow_null=True),
            limited_by=shape("LimitedBy", "What limits it.", rule=text(), place=text(), do=text())(
                allow_null=True
            ),
        )(many=True),
    ),
    by_kit=True,
)
NAMED_SHEET = shape(
    "NamedSheet",
    "A sheet of your own, under a name.",
    kit=text("Its name in the answer."),
    sheet=anything("A rule sheet, format 1."),
)
KITS = Question(
    "kits",
    "Which kits fit?",
    "The whole catalogue, roomiest first.",
    "Ranks every size of every kit of the catalogue, or of the sheets sent, by its least margin in "
    "one pass, the roomiest first, and says why the first ones, or those asked about, do not fit.",
    "which_kits",
    asks=shape(
        "KitsQuestion",
        "An opening; without `kits` the whole catalogue is asked, newest sheets.",
        opening=OPENING(),
        readings=readings(required=False),
        zones=ZONE(many=True, required=False),
        house=house(),
        kits=NAMED_SHEET(many=True, required=False),
        reasons_for=texts("Kits to be told in full. Default: the first ones.", required=False),
    ),
    tells=shape(
        "KitsAnswer",
        "The kits in order.",
        kits=shape(
            "RankedKit",
            "One kit by its best size.",
            kit=text("`slug:2` of the catalogue, or the name sent."),
            size=text(),
            by_limits=state(),
            least_margin=computed("Rounded down.", allow_null=True),
            state=state(required=False),
            reasons=shape(
                "Reason",
                "A finding that does not pass.",
                rule=text(),
                place=text(),
                state=state(),
                do=text(),
            )(many=True, required=False),
        )(many=True),
        sizes=whole("How many sizes were compared."),
        why=text("Why none fits yet: readings that contradict each other.", allow_null=True),
    ),
    filled=kits_answer,
)
