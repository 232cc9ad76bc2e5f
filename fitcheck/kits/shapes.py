"""What shape has a rule sheet on the wire? Described for the schema; bodies are read by the rules."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from fitcheck.kits.shapes_made import SheetMadeGlassSerializer
from fitcheck.rules.anchor_together import TOGETHER
from fitcheck.rules.sheet_anchor_read import BASES
from fitcheck.rules.sheet_more import WALLS
from fitcheck.rules.sheet_parse import KINDS, UNITS
from fitcheck.rules.survey import STANDS_ON

LENGTH = "A length with its unit: `1 3/4 in`, `45 mm`."
FORCE = "A force with its unit: `285 lbf`, `1200 N`."


def _choice(values: Any, **how: Any) -> serializers.ChoiceField:
    return serializers.ChoiceField(choices=[(one, one) for one in values], **how)


def _length(says: str, **how: Any) -> serializers.CharField:
    return serializers.CharField(help_text=f"{says} {LENGTH}", **how)


def _part(says: str, **how: Any) -> serializers.DictField:
    how = {"required": False, "allow_null": True, **how}
    return serializers.DictField(help_text=says, **how)


def _list(says: str) -> serializers.ListField:
    return serializers.ListField(
        child=serializers.JSONField(), required=False, allow_null=True, help_text=says
    )


class SheetReportSerializer(serializers.Serializer):
    """An anchor's evaluation report, so that a finding can name it."""

    number = serializers.CharField()
    edition = serializers.CharField()
    page = serializers.CharField(help_text="Page of the report that the loads are copied from.")


class SheetAnchorSerializer(serializers.Serializer):
    """What the evaluation report of one anchor allows in one kind of masonry."""

    anchor = serializers.CharField()
    report = SheetReportSerializer()
    base = _choice(BASES)
    grouted = serializers.BooleanField(
        required=False, help_text="Of block: the loads are for grouted cells. Default: hollow."
    )
    holds_for = serializers.CharField(
        help_text="What the masonry must be, in words; said as a caution."
    )
    diameter = _length("Of the anchor.")
    bit = _length("The drill that the report asks for.")
    length = _length("Of the anchor, whole.")
    embedment = _length("Least depth in the masonry itself.")
    edge = _length("Least distance from a free edge for these loads.")
    spacing = _length("Least distance of two anchors for these loads.")
    head_joint = _length(
        "Of hollow block: least distance from an upright joint.", required=False, allow_null=True
    )
    stack_most = _length(
        "The most that may lie between bracket and masonry. Default: nothing.",
        required=False,
        allow_null=True,
    )
    tension = serializers.CharField(help_text=f"Allowable pull of one anchor. {FORCE}")
    shear = serializers.CharField(help_text=f"Allowable shear of one anchor. {FORCE}")
    together = _choice(
        TOGETHER,
        required=False,
        allow_null=True,
        help_text="How the report adds pull and shear. Default: straight.",
    )
    page = serializers.CharField(help_text="Page of the kit's sheet that names the anchor.")


class SheetBodySerializer(serializers.Serializer):
    """A rule sheet, format 1: what a kit's own instructions demand, each rule with its page.

    A part that the sheet leaves out is not judged and never guessed.
    """

    format = serializers.IntegerField(help_text="1")
    document = serializers.JSONField(help_text="Title, edition and language of the sheet.")
    kind = _choice(KINDS)
    stands_on = serializers.ListField(
        child=serializers.CharField(), help_text=f"Some of {', '.join(STANDS_ON)}."
    )
    page = serializers.CharField(help_text="Page that says what it is and stands on.")
    unit = _choice(UNITS)
    sizes = serializers.ListField(
        child=serializers.JSONField(), help_text="Each with code, page and windows of width."
    )
    rail_height = _length("Above the sill.", required=False, allow_null=True)
    rail_height_page = serializers.CharField(required=False, allow_null=True)
    width_difference = _part("The most that widths may differ.")
    lean = _part("How far a wall may be out of plumb over a height.")
    level = _part("How far the sill may be out of level.")
    sill_fall = _part("Least and most fall across the sill.")
    ceiling_height = _part("Least height to the ceiling.")
    surround_height = _part("Least height of a surround.")
    curb = _part("Least depth and flat width of curb or deck.")
    backing = _list("Where stud or blocking must lie.")
    substrates = _part("Finishes, structures and fits that are allowed.")
    cuts = _list("Parts to be cut, with what is taken off.")
    fixings = _list(
        "Where holes go and what they must reach; `bracket` says how it sits on the wall (`reach`, "
        "`screw_height`, `top_row`, `thickness`, `metal`, `setback`, `spacing`, `screw_width`) and what it "
        "`bears`."
    )
    panels = _list("Panes with size, thickness and order.")
    sealant = _list("Runs of sealant.")
    hands = _part("Least number of people.")
    cure = _part("Hours until water.")
    warranty = _part("Years and terms.")
    claim = _part("Contact and days.")
    steps = _list("The sheet's own lines on the order of work.")
    walls = serializers.ListField(
        child=serializers.CharField(),
        required=False,
        allow_null=True,
        help_text=f"Which walls count: some of {', '.join(WALLS)}. Default: both.",
    )
    rail = _part("Section, alloy and rollers of the head rail.")
    glazing = _part("What the panes belong to, and by which edition.")
    sliding = _part("Tracks and overlap.")
    sealant_product = _part("Product data of the sealant.")
    made_glass = SheetMadeGlassSerializer(
        required=False, allow_null=True, help_text="Panels made to measure, by gaps and holes."
    )
    anchors = SheetAnchorSerializer(
        many=True,
        required=False,
        allow_null=True,
        help_text="Anchors for masonry, by their evaluation reports.",
    )


@extend_schema_field(SheetBodySerializer)
class SheetBodyField(serializers.JSONField):
    """A rule sheet as it was sent; the rules read it."""
