"""What may be asked about an opening: its shape, how surely a kit fits, what would help, which kits?"""

from fitcheck.checks.asked_shapes import house, readings
from fitcheck.checks.members import (
    anything,
    choice,
    computed,
    flag,
    shape,
    source,
    text,
    texts,
    whole,
)
from fitcheck.checks.question import Question

MISTAKE = shape(
    "LikelyMistake",
    "A slip that would explain what the others contradict.",
    kind=text(),
    off=anything("By reading: how far off the slip puts it."),
    meant=text("What was probably meant.", allow_null=True),
    words=text("In words."),
)
JUDGED = shape(
    "JudgedReading",
    "One reading against all others.",
    id=text(),
    quantity=text(),
    side=text(),
    height=text(allow_null=True),
    state=choice(("kept", "not checkable", "taken out")),
    adjusted=text("What the adjustment makes of it.", required=False),
    residual=text("Adjusted less read.", required=False),
    uncertainty=text("Standard, k = 1.", required=False),
    redundancy=text("How far the others check it: 0 not at all, 1 wholly.", required=False),
    standardised=text("Residual over its own uncertainty.", required=False, allow_null=True),
    least_detectable=text("A smaller mistake would not show.", required=False, allow_null=True),
    off=text("How far off it is, where it was taken out.", required=False),
    mistake=MISTAKE(required=False, allow_null=True),
    do=text(required=False),
)


STANDING = shape(
    "StandingOfReadings",
    "How much the readings leave open.",
    widths_untold=whole("Widths that matter and that no reading tells."),
    readings_unchecked=whole("Readings that no other checks."),
    largest_hidden_mistake=text("In a width that matters.", allow_null=True),
    largest_uncertainty=text("Of a width that matters.", allow_null=True),
)
ADVICE = shape(
    "OneMoreReading",
    "The one reading that would help most.",
    quantity=text(),
    side=text(),
    height=text(allow_null=True),
    again=flag("It was read before."),
    needed=flag("Without it something that matters stays open."),
    do=text(),
    why=text(),
    before=STANDING(),
    after=STANDING(),
)
SHAPE = Question(
    "shape",
    "What shape is the opening?",
    "Readings adjusted, mistakes named.",
    "Adjusts widths, leans, level, heights and diagonals together, names readings that the others "
    "contradict with the likely mistake, and says which one more reading would help most.",
    "shape_report",
    asks=shape(
        "ShapeQuestion",
        "Readings of one opening.",
        readings=readings(),
        heights=texts("Heights whose widths matter. Default: those read.", required=False),
        diagonals_to=choice(("station", "ceiling"), "Default: station.", required=False),
        house=house(),
    ),
    tells=shape(
        "ShapeAnswer",
        "The adjusted opening.",
        state=choice(("agree", "corrected", "undecided", "unchecked")),
        summary=text(),
        consistency=shape(
            "Consistency",
            "Do all readings together agree as well as their tools allow?",
            sum_of_squares=text(),
            freedom=whole("Readings more than needed."),
            limit=text(allow_null=True),
            chance=text("Of a worse sum with no mistake.", allow_null=True),
            bow_fitted=flag("A bowed wall explains the widths."),
        )(),
        over=text("The height of the frame that leans are told over."),
        widths=shape(
            "AdjustedWidth",
            "The adjusted width at one height.",
            height=text(),
            width=computed(allow_null=True),
            uncertainty=text("Standard, k = 1.", allow_null=True),
            trusted=flag("False while readings contradict each other or none checks another."),
        )(many=True),
        shape=shape(
            "ShapeProperty",
            "Lean, taper, racking, out of level, bow, heights.",
            name=text(),
            sense=text("Which way counts as more than zero."),
            value=computed(allow_null=True),
            uncertainty=text(required=False),
            slope=text(required=False),
            angle=text(required=False),
        )(many=True),
        readings=JUDGED(many=True),
        suspected=shape(
            "Suspicion",
            "Readings of which one is wrong, when the others cannot tell which.",
            readings=texts(),
            share=text("Of everything that may be wrong."),
            mistake=MISTAKE(allow_null=True),
        )(many=True),
        one_more_reading=ADVICE(allow_null=True),
        source=source(),
    ),
)
