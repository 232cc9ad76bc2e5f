"""What may be asked before the saw is started?"""

from fitcheck.checks.asked_shapes import TOOL, house
from fitcheck.checks.members import (
    LENGTH,
    choice,
    computed,
    length,
    shape,
    state,
    text,
    texts,
)
from fitcheck.checks.question import Question
from fitcheck.checks.shapes import FindingSerializer

SAW_MARK = Question(
    "saw-mark",
    "Where is the saw mark?",
    "Released, or held and why.",
    "Gives the mark to saw at from the readings as fixed, or holds it and says what to do: the "
    "survey's prediction must agree, two people must agree, the stock must be long enough.",
    "sawmark",
    asks=shape(
        "SawMarkQuestion",
        "One part, the survey's prediction, and the readings as fixed.",
        part=text("Head rail, threshold, …"),
        predicted=shape(
            "PredictedDistance",
            "What the survey foretold.",
            distance=length(),
            uncertainty=length("Standard, k = 1."),
        )(required=False, allow_null=True),
        as_fixed=shape(
            "FixedReading",
            "One reading between the brackets as they are fixed.",
            id=text("Any name; findings refer to it."),
            value=text(LENGTH),
            read_by=text("Two different people."),
            taken_at=text("When.", required=False),
            tool=TOOL(),
        )(many=True, required=False),
        deduct=length("What the kit's sheet takes off."),
        brackets_take=length(
            "What the brackets take off a width from wall to wall.", required=False
        ),
        allowance=length("How much the end covers hide.", required=False, allow_null=True),
        stock=length("The part as it came."),
        least=length("The shortest part that the sheet allows.", required=False, allow_null=True),
        most=length("The longest.", required=False, allow_null=True),
        end=choice(("either", "left", "right", "both"), "Which end is sawn.", required=False),
        kerf=length("At most 1/2 in. Default: 1/8 in.", required=False),
        unit=choice(("inch", "metric"), "Of the crew's tape. Default: inch.", required=False),
        sawn=length("The part as sawn, once it is.", required=False, allow_null=True),
        house=house(),
    ),
    tells=shape(
        "SawMarkAnswer",
        "The mark, or why it is held.",
        state=state(),
        part=text(),
        decision=choice(("release", "hold")),
        mark=text("What to mark; null while it is held.", allow_null=True),
        length=computed(allow_null=True),
        worked_out=computed("What it would be, were it released.", allow_null=True),
        saw=text("How to saw: which end, which side of the line.", allow_null=True),
        hold=texts("What to do first."),
        rounded=text(),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
