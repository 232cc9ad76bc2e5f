"""What may be asked about glass: what does a pane demand, which panels are ordered?"""

from fitcheck.checks.asked_shapes import house
from fitcheck.checks.load_questions import FORCE_SHAPE
from fitcheck.checks.members import (
    MASS,
    Field,
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
from fitcheck.rules.glass_demand import PRODUCTS
from fitcheck.rules.safety_mark import JURISDICTIONS

EDGES = ("foot", "right", "head", "left")
PLACED = {"right": computed("From the panel's own left foot."), "up": computed()}
CORNER = shape("PanelCorner", "A place on a panel.", **PLACED)
PANEL = shape(
    "CutPanel",
    "A panel: outline, holes, notches, allowed errors, area, mass, centre.",
    name=text(),
    corners=CORNER(many=True, help_text="Left foot, right foot, right head, left head."),
    edges=shape("PanelEdges", "Lengths.", **{one: computed() for one in EDGES})(),
    diagonals=computed(many=True),
    tapers=shape("PanelTapers", "Out of square, by edge.", **{one: computed() for one in EDGES})(),
    holes=shape("PlacedHole", "A hole.", name=text(), diameter=computed(), **PLACED)(many=True),
    notches=shape("PlacedNotch", "A notch.", name=text(), corners=CORNER(many=True))(many=True),
    tolerances=shape(
        "PanelTolerances",
        "What the edition allows; null where it says nothing.",
        size=computed(allow_null=True),
        diagonals=computed(allow_null=True),
        bow=computed(allow_null=True),
    )(),
    area=text(),
    net_area=text("Less holes and notches; null where these leave no pane.", allow_null=True),
    glass_mass=text(allow_null=True),
    mass=text("With hardware.", allow_null=True),
    centre=CORNER(help_text="Of the glass; hardware is not weighed in.", allow_null=True),
)
HOLE = shape(
    "AskedHole",
    "A hole, by the distances of its centre from two edges.",
    name=text(),
    across=length(),
    up_from=choice(("foot", "head")),
    up=length(),
    diameter=length(),
    **{"from": choice(("left", "right"))},
)
NOTCH = shape(
    "AskedNotch",
    "A notch in an edge.",
    name=text(),
    edge=choice(EDGES),
    start=length("Along the edge."),
    length=length("Along the edge."),
    depth=length(),
    radius=length("Of its inner corners."),
)
EDITION = ("c1048", "en12150")


def _glass() -> dict[str, Field]:
    return {
        "edition": choice(EDITION, "ASTM C1048 or EN 12150-1; never mixed."),
        "thickness": length("By its name: 3/8 in, 10 mm."),
    }


def _taken() -> dict[str, Field]:
    return {
        "holes": HOLE(many=True, required=False),
        "notches": NOTCH(many=True, required=False),
        "hardware_mass": text(MASS, required=False),
    }


GLASS = Question(
    "glass",
    "What does the glass demand?",
    "Mass, holes, hinges, safety mark.",
    "Mass and centre of a pane, its thickness, holes and notches by a named edition, hinge loads, "
    "overlap and clearance of sliding panels, and the safety mark to look for.",
    "glass_demand",
    asks=shape(
        "GlassQuestion",
        "A square-cut pane, and how it hangs or slides.",
        **_glass(),
        measured_thickness=length(required=False, allow_null=True),
        product=choice(PRODUCTS, "Default: shower door.", required=False),
        jurisdiction=choice(
            JURISDICTIONS, "Whose law asks for a safety mark. Default: us.", required=False
        ),
        name=text("Default: panel.", required=False),
        width=length(),
        height=length(),
        **_taken(),
        hinges=shape(
            "PaneHinges",
            "Two or more hinges.",
            centres=length("Between the outer ones."),
            offset=length("From the hinge line to the edge of the glass."),
        )(required=False, allow_null=True),
        sliding=shape(
            "SlidingPanels",
            "Two panels that pass each other.",
            widths=texts("Two lengths."),
            height=length(),
            opening_width=length(),
            uncertainty=length("Of the opening, k = 1."),
            tracks_apart=length("Between the middles of the tracks."),
            overlap_least=length("Default: the firm's.", required=False, allow_null=True),
        )(required=False, allow_null=True),
        house=house(),
    ),
    tells=shape(
        "GlassAnswer",
        "What the pane demands.",
        state=state(),
        edition=choice(EDITION),
        pane=PANEL(),
        safety=shape(
            "SafetyMark",
            "The mark to look for on the glass.",
            category=text("Null where 16 CFR 1201 is no law.", allow_null=True),
            drop_class=text(allow_null=True),
            look_for=text(),
            refuse=text(),
        )(),
        hinges=shape(
            "HingeLoads",
            "What the hinges get.",
            weight=FORCE_SHAPE(),
            top_pulls=FORCE_SHAPE(),
            bottom_pushes=FORCE_SHAPE(),
            down_if_two_share=FORCE_SHAPE(),
            down_if_one_carries_all=FORCE_SHAPE(),
            note=text(),
        )(allow_null=True),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
AT = shape(
    "OpeningCorner",
    "A corner of the opening from any origin.",
    right=length("May be less than zero."),
    up=length("May be less than zero."),
)
PANELS = Question(
    "panels",
    "Which panels are ordered?",
    "Cut to an opening out of square.",
    "Cuts panels to an opening that is not square: the outline of each from the adjusted corners "
    "and named gaps, its holes and notches, checks by a named edition, area and mass.",
    "panel_order",
    asks=shape(
        "PanelsQuestion",
        "The opening's corners, the gaps, and the panels from left to right.",
        **_glass(),
        opening=shape(
            "OpeningCorners",
            "The adjusted opening.",
            left_foot=AT(),
            right_foot=AT(),
            right_head=AT(),
            left_head=AT(),
            uncertainty=length("Standard, k = 1."),
        )(),
        gaps=shape(
            "PanelGaps",
            "What is left between glass and walls.",
            left=length(),
            right=length(),
            head=length(),
            foot=length(),
            between=length("Between panels. Default: none.", required=False),
        )(),
        top=length("Height of a free top edge.", required=False, allow_null=True),
        dividers=texts("Middles of the joints, from left to right.", required=False),
        panels=shape("AskedPanel", "One panel.", name=text(), **_taken())(many=True),
        taper=choice(("panel", "channel"), "What takes it up. Default: panel.", required=False),
        channel_hides=length("Needed for a channel.", required=False),
        house=house(),
    ),
    tells=shape(
        "PanelsAnswer",
        "The panels to order.",
        state=state(),
        edition=choice(EDITION),
        panels=PANEL(many=True),
        findings=FindingSerializer(many=True),
        cautions=texts(),
    ),
)
