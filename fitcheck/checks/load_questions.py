"""What may be asked about loads: does the fixing hold, is the rail strong enough?"""

from fitcheck.checks.asked_shapes import house
from fitcheck.checks.members import (
    FORCE,
    MASS,
    Field,
    anything,
    choice,
    computed,
    flag,
    length,
    number,
    one_of,
    shape,
    state,
    text,
    texts,
    whole,
)
from fitcheck.checks.question import Question
from fitcheck.checks.shapes import FindingSerializer
from fitcheck.rules.holding_wood import GRAINS

RAIL_SHAPES = ("tube", "round", "bar")


def _rail() -> dict[str, Field]:
    return {
        "span": length("Between the brackets."),
        "shape": choice(RAIL_SHAPES),
        "width": length("Not for a round one.", required=False),
        "height": length("A round one's diameter."),
        "wall": length("Not for a solid bar.", required=False),
        "alloy": text("Default: 6063-T5.", required=False),
        "rail_mass": text(MASS, required=False),
        "panels": SLIDING_PANEL(many=True),
        "clear_below": length("Under the panels.", required=False, allow_null=True),
    }


SLIDING_PANEL = shape(
    "HungPanel",
    "A panel on two rollers, and how far its first roller goes.",
    mass=text(MASS),
    roller_spacing=length(),
    first_from=length("From the left bracket."),
    first_to=length("From the left bracket."),
)
FORCE_SHAPE = shape(
    "ComputedForce",
    "A force both ways, and how it was rounded.",
    lbf=text(),
    newton=text(),
    rounded=choice(("up", "down")),
)
RAIL = Question(
    "rail",
    "Is the head rail strong enough?",
    "Sag and strength.",
    "Bends the rail with the rollers at the worst places, and compares sag and stress.",
    "rail",
    asks=shape(
        "RailQuestion",
        "A head rail and the panels on it.",
        **_rail(),
        slam_factor=number("On the moving weight. Default: the firm's.", required=False),
        house=house(),
    ),
    tells=shape(
        "RailAnswer",
        "The worst that the panels do.",
        state=state(),
        reaction=FORCE_SHAPE(help_text="At one bracket, slammed."),
        moment=text("Slammed [lbf in]."),
        sag=computed("Still, rounded up."),
        sag_at=text("From the left bracket."),
        rollers_at=texts("Where the rollers stand then."),
        panels=texts("Masses."),
        settings=anything("What was set by the firm."),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
PLACE = shape(
    "BracketPlace",
    "A place on a bracket.",
    right=length("Less than zero is left."),
    up=length("Less than zero is down."),
)
BRACKET = shape(
    "Bracket",
    "What the screws hold.",
    reach=length("From the wall to the load."),
    screw_height=length("From the heel to the top row."),
    screws=whole("All of them."),
    top_row=whole("Screws that take the pull. Default: 1.", required=False),
    thickness=length(),
    metal=choice(("steel", "aluminium"), "Default: aluminium.", required=False),
    screw_width=length(
        "From the outer upright row to the edge that an open door turns it about.", required=False
    ),
    layout=shape(
        "BracketLayout",
        "Where each screw and the load stand, when the load is beside them.",
        screws=PLACE(many=True),
        load=PLACE(),
    )(required=False, allow_null=True),
)
DEMANDS = {
    "rail": shape("RailDemand", "A rail's end.", kind=choice(("rail",)), **_rail()),
    "hinge": shape(
        "HingeDemand",
        "A hinged door.",
        kind=choice(("hinge",)),
        mass=text(MASS),
        width=length("Of the door."),
        hinge_centres=length("Between the outer hinges."),
        offset=length("From the hinge line to the edge of the glass."),
        hinges=whole("2 to 6."),
    ),
    "load": shape(
        "LoadDemand",
        "A load as given.",
        kind=choice(("load",)),
        down=text(FORCE),
        outward=text(FORCE, required=False),
    ),
}
SCREW = {"size": text("`#10`, or a lag: `1/4 in`.")}
REPORT = shape(
    "EvaluationReport",
    "What the anchor's evaluation report says.",
    number=text(),
    tension=text(FORCE),
    shear=text(FORCE),
    edge=length(),
    spacing=length(),
    embedment=length(
        "The least that its loads ask; not known without it.", required=False, allow_null=True
    ),
    stack_most=length(
        "The most between bracket and masonry. Default: nothing.", required=False, allow_null=True
    ),
)


def _masonry(kind: str) -> dict[str, Field]:
    return {
        "kind": choice((kind,)),
        "anchor": length("Its diameter."),
        "embedment": length(),
        "edge": length(required=False, allow_null=True),
        "spacing": length(required=False, allow_null=True),
        "head_joint": length("To the nearest one.", required=False, allow_null=True),
        "unit": length("Thickness of the block.", required=False, allow_null=True),
        "grouted": choice(("yes", "no", "unknown"), required=False),
        "report": REPORT(required=False, allow_null=True),
    }


BASES = {
    "wood": shape(
        "WoodBase",
        "A stud or blocking.",
        kind=choice(("wood",)),
        species=text("Default: unknown, which is treated cautiously.", required=False),
        screw=shape("WoodScrew", "The screw or lag.", **SCREW, length=length())(),
        grain=choice(
            GRAINS, "Into the side of the wood, or its end. Default: side.", required=False
        ),
        wet=flag("Wet in service. Default: false.", required=False),
        duration=text("Default: permanent.", required=False),
        stud=shape(
            "StudFound",
            "Where the stud was found.",
            off_centre=length("How far the hole is off its middle."),
            uncertainty=length("Standard, k = 1."),
            face=length("Default: 1 1/2 in.", required=False),
        )(required=False, allow_null=True),
    ),
    "steel_stud": shape(
        "SteelStudBase",
        "A steel stud.",
        kind=choice(("steel_stud",)),
        thickness=text("In mils, which are printed on it: `43 mil`; no gauge."),
        screw=shape(
            "SteelScrew",
            "The screw; without its length it is not known to hold.",
            size=text("`#10`."),
            length=length(required=False, allow_null=True),
        )(),
        off_centre=flag("The load pulls at one side of the head. Default: true.", required=False),
    ),
    "block": shape("BlockBase", "Concrete block.", **_masonry("block")),
    "brick": shape("BrickBase", "Brick.", **_masonry("brick")),
    "concrete": shape("ConcreteBase", "Concrete.", **_masonry("concrete")),
    "hollow_anchor": shape("HollowBase", "A hollow-wall anchor.", kind=choice(("hollow_anchor",))),
    "none": shape("NoBase", "Nothing behind the finish.", kind=choice(("none",))),
    "unknown": shape("UnknownBase", "Nobody has looked.", kind=choice(("unknown",))),
}
HOLDING = Question(
    "holding",
    "Does the fixing hold?",
    "Down to the screw.",
    "Works out what the worst screw of a bracket gets and what it holds: in wood with the tile "
    "stack as a gap, in a steel stud by its mils, in masonry only from the evaluation report.",
    "holding",
    asks=shape(
        "HoldingQuestion",
        "What hangs there, the bracket, the build-up, and what is behind it.",
        place=text("Default: fixing.", required=False),
        demand=one_of("Demand", "What hangs there.", DEMANDS),
        bracket=BRACKET(),
        stack=length("Finish and backing before the structure."),
        base=one_of("Base", "What the screw ends in.", BASES),
        slam_factor=number("On the moving weight. Default: the firm's.", required=False),
        house=house(),
    ),
    tells=shape(
        "HoldingAnswer",
        "What the worst screw gets, and what it holds.",
        state=state(),
        cases=shape(
            "LoadCase",
            "One case of load on the worst screw.",
            case=text(),
            pull=FORCE_SHAPE(),
            shear=FORCE_SHAPE(),
        )(many=True),
        capacity=anything(
            "By what the screw ends in; null where nothing may be said.", allow_null=True
        ),
        settings=anything("What was taken, and what the firm set."),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
