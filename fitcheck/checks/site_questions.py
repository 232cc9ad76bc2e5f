"""What may be asked about the visit: can it be carried in, how much sealant, which codes?"""

from fitcheck.checks.asked_shapes import house
from fitcheck.checks.members import (
    LENGTH,
    MASS,
    choice,
    choices,
    computed,
    flag,
    length,
    number,
    one_of,
    several,
    shape,
    source,
    state,
    text,
    texts,
    whole,
)
from fitcheck.checks.question import Question
from fitcheck.checks.shapes import FindingSerializer
from fitcheck.rules.sealing import MATERIALS
from fitcheck.rules.survey import LIFT_CONVENTIONS
from fitcheck.rules.tables_carrying import OUTSIDE_THE_METHOD
from fitcheck.rules.tables_pane import DOOR_SWINGS

HOLD = shape(
    "LiftHold",
    "Where the hands are.",
    horizontal=length("In front of the ankles."),
    height=length("Above the floor."),
    asymmetry_deg=number("Twist [deg]. Default: 0.", required=False),
)
NAME = "Default: its kind."
PLACES = {
    "doorway": shape(
        "Doorway",
        "A doorway.",
        kind=choice(("doorway",)),
        name=text(NAME, required=False),
        width=length("Clear."),
        height=length("Clear."),
    ),
    "corner": shape(
        "CorridorCorner",
        "A corner between two corridors.",
        kind=choice(("corner",)),
        name=text(NAME, required=False),
        to=length("Width beyond it."),
        height=length(),
        **{"from": length("Width before it.")},
    ),
    "stairs": shape(
        "Stairs",
        "A straight flight.",
        kind=choice(("stairs",)),
        name=text(NAME, required=False),
        width=length(),
        headroom=length("Above the nosings, upright."),
        rise=length("Of one step."),
        going=length("Of one step."),
    ),
    "stair_turn": shape(
        "StairTurn",
        "A turn on a landing.",
        kind=choice(("stair_turn",)),
        name=text(NAME, required=False),
        flight=length("Width."),
        landing=length("Depth."),
        height=length(),
        across=length("Of a half turn.", required=False),
        rise=length("Of one step; unknown where the panel hangs over it.", required=False),
        going=length("Of one step; with `rise`.", required=False),
    ),
    "lift_car": shape(
        "LiftCar",
        "A lift.",
        kind=choice(("lift_car",)),
        name=text(NAME, required=False),
        width=length(),
        depth=length(),
        height=length(),
        door_width=length(),
        door_height=length(),
    ),
}
PASSAGE = shape(
    "Passage",
    "Whether the panel passes one place, and how.",
    kind=text(),
    name=text(),
    pose=text(allow_null=True),
    margin=computed("How much smaller the place could be."),
    room_for_hands=computed(),
    state=state(),
    do=text(),
    source=source(),
)
CARRYING = Question(
    "carrying",
    "Can people carry it, and get it in?",
    "Hands, and the tightest place.",
    "A screen of the lift, the hands needed, and whether the panel passes each place of the way "
    "in; the tightest is named, with rests and what to protect.",
    "carrying",
    asks=shape(
        "CarryingQuestion",
        "A panel, the people, and the way in.",
        panel=shape(
            "CarriedPanel",
            "The panel.",
            width=length(),
            height=length(),
            thickness=length(),
            packing=length("Both faces together.", required=False, allow_null=True),
            mass=text(MASS),
        )(),
        people=whole("2 to 4."),
        convention=choice(LIFT_CONVENTIONS, "How a team's strength is taken."),
        lift=shape(
            "Lift",
            "The lift itself.",
            origin=HOLD(),
            destination=HOLD(required=False, allow_null=True),
            per_minute=number("Lifts. Default: 0.2.", required=False),
            work_minutes=whole(),
            rest_minutes=whole(),
            coupling=choice(("good", "fair", "poor")),
        )(required=False, allow_null=True),
        conditions=choices(
            OUTSIDE_THE_METHOD.value, "What the method does not cover.", required=False
        ),
        way=several(one_of("WayPlace", "One place.", PLACES), "In order.", required=False),
        carry=length("On the level.", required=False, allow_null=True),
        room_for_hands=length("Default: the firm's.", required=False, allow_null=True),
    ),
    tells=shape(
        "CarryingAnswer",
        "Whether people can handle the panel.",
        state=state(),
        mass=text(),
        hands_needed=whole("[persons]"),
        by_hand=flag("False: only with an aid."),
        team=shape(
            "CarryingTeam",
            "Whether enough people come.",
            people=whole(),
            needed=whole("[persons]"),
            state=state(),
            do=text(),
            source=source(),
        )(),
        lift=shape(
            "LiftScreen",
            "What the lifting equation says.",
            method=text(),
            limit_each=shape(
                "LiftLimit",
                "What one person may lift.",
                origin=text(),
                destination=text(),
                governing=text(),
                governed_by=text(),
            )(),
            people=whole(),
            convention=text(),
            team_may_lift=text(),
            mass=text(),
            index=text("Load over what the team may lift.", allow_null=True),
            people_enough=whole(allow_null=True),
            outside=texts(),
            state=state(),
            do=text(),
            source=source(),
        )(allow_null=True),
        way=PASSAGE(many=True),
        tightest=PASSAGE(allow_null=True),
        rests=texts(),
        protection=texts(),
        cautions=texts(),
    ),
)
SEALANT = Question(
    "sealant",
    "How much sealant, dry when?",
    "Cartridges, and the first shower.",
    "Cartridges for the runs, whether a joint bears its movement, how long it cures by the kit's "
    "sheet and the product's data, and the first shower in the site's time.",
    "sealing",
    asks=shape(
        "SealantQuestion",
        "Runs, a joint that moves, and the air it cures in.",
        runs=shape(
            "AskedRun",
            "One run of sealant.",
            run=text("Its name."),
            shape=choice(("fillet", "joint"), "Default: fillet.", required=False),
            length=text(LENGTH),
            width=length(),
            depth=length(required=False, allow_null=True),
        )(many=True, required=False),
        cartridge=text("Default: the firm's. `300 mL`.", required=False),
        waste_percent=number("Default: the firm's.", required=False),
        joint=shape(
            "AskedJoint",
            "A joint that moves with heat.",
            width=length(),
            length=text(LENGTH),
            kelvin=number("Swing of temperature [K]."),
            material=text(", ".join(MATERIALS) + "."),
            against=text("What it moves against.", required=False, allow_null=True),
            other=length("Other movement.", required=False, allow_null=True),
            tolerance=length(required=False, allow_null=True),
            **{"class": text("Movement class: 12.5, 25, 50, 100/50.")},
        )(required=False, allow_null=True),
        cure=shape(
            "AskedCure",
            "What the sheets say of curing, the air, and when the last bead was run.",
            sheet=shape(
                "CureSheet",
                "The kit's sheet.",
                title=text(),
                edition=text(),
                page=text(),
                hours=whole(),
            )(required=False, allow_null=True),
            product=shape(
                "CureProduct",
                "The product's data sheet.",
                title=text(),
                edition=text(),
                page=text("Where it says so.", required=False),
                rows=shape(
                    "CureRow",
                    "One row: a rate by depth, or hours up to a depth.",
                    least_celsius=number("Holds from here [C]."),
                    least_humidity=number("Holds from here [%]."),
                    mm_per_root_day=number("Or `hours`.", required=False),
                    hours=number("Or `mm_per_root_day`.", required=False),
                    up_to=length("Deepest.", required=False, allow_null=True),
                )(many=True),
            )(required=False, allow_null=True),
            depth=length(
                "Of the deepest bead, where no run is told.", required=False, allow_null=True
            ),
            celsius=number("Of the air. Needed with `product`.", required=False),
            humidity=number("Of the air [%]. Needed with `product`.", required=False),
            finished_at=text("The site's wall time: `2026-03-07T16:20`.", required=False),
            time_zone=text("The site's: `America/Chicago`.", required=False),
        )(required=False, allow_null=True),
    ),
    tells=shape(
        "SealantAnswer",
        "Sealant, joint and cure.",
        runs=shape(
            "SealantRun",
            "One run.",
            run=text(),
            shape=text(),
            length=computed(),
            width=computed(),
            depth=computed(allow_null=True),
            volume=text(allow_null=True),
            state=state(),
            do=text(),
            source=source(),
        )(many=True),
        volume=text("Null while a run has none.", allow_null=True),
        cartridges=whole("With waste; null while a run has no volume.", allow_null=True),
        waste_percent=text(),
        joint=shape(
            "MovingJoint",
            "What the joint needs and what it is.",
            movement=computed(),
            width=computed(),
            width_needed=computed(),
            may_close_to=computed(),
            may_open_to=computed(),
            state=state(),
            do=text(),
            source=source(),
        )(allow_null=True),
        cure=shape(
            "Cure",
            "How long it cures.",
            state=state(),
            window=shape(
                "CureWindow", "The longest.", hours=text(), because=text(), source=source()
            )(allow_null=True),
            first_shower=shape(
                "FirstShower", "In the site's time.", not_before=text(), words=text()
            )(allow_null=True),
            remarks=texts(),
            do=text(),
        )(allow_null=True),
        cautions=texts(),
    ),
)
SHOWER_CODE = Question(
    "shower-code",
    "Does the shower keep the model codes?",
    "Room, way in, curb, floor.",
    "Compares compartment, way in, curb, floor and threshold with the model codes as quoted; the "
    "code that is adopted on site outranks them.",
    "shower_room",
    asks=shape(
        "ShowerCodeQuestion",
        "What was measured; any of it.",
        width=length("Of the finished compartment; with `depth`.", required=False, allow_null=True),
        depth=length("With `width`.", required=False, allow_null=True),
        access=length("Clear, with the door open.", required=False, allow_null=True),
        curb_above_drain=length("Top of curb over drain.", required=False, allow_null=True),
        curb_below_sides=length(
            "Top of curb under the receptor's sides and back.", required=False, allow_null=True
        ),
        curb_depth=length("With `curb_fall`.", required=False, allow_null=True),
        curb_fall=length("Towards the shower; with `curb_depth`.", required=False, allow_null=True),
        threshold=length("Where it must be accessible.", required=False, allow_null=True),
        floor=shape("FloorFall", "The floor's fall.", fall=length(), run=length("Over this."))(
            required=False, allow_null=True
        ),
        door_swing=choice(
            DOOR_SWINGS.value, "How the door opens.", required=False, allow_null=True
        ),
        roll_in=flag("A roll-in shower; with `width`, `depth`, `access`.", required=False),
        existing_transfer=flag("A transfer shower in an existing building.", required=False),
        uncertainty=length("Of the readings, k = 1. Default: none.", required=False),
        house=house(),
    ),
    tells=shape(
        "ShowerCodeAnswer",
        "What the model codes ask.",
        state=state(),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
