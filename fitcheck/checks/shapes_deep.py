"""What shape have the members that version 2 of the rules adds to a verdict?"""

from typing import Any

from rest_framework import serializers


class VerdictLengthSerializer(serializers.Serializer):
    """A computed length, rounded one way."""

    mm = serializers.CharField()
    inch = serializers.CharField()
    inch_mark = serializers.CharField()
    rounded = serializers.ChoiceField(choices=[("up", "up"), ("down", "down")])


class VerdictForceSerializer(serializers.Serializer):
    """A force: a load is rounded up, what holds it down."""

    lbf = serializers.CharField()
    newton = serializers.CharField()
    rounded = serializers.ChoiceField(choices=[("up", "up"), ("down", "down")])


class VerdictChanceSerializer(serializers.Serializer):
    """Between which bounds the chance lies that every limit is truly kept."""

    at_least = serializers.CharField(help_text="Whatever goes together (Bonferroni).")
    at_most = serializers.CharField(help_text="That of the weakest limit.")
    limits = serializers.IntegerField()
    unknown = serializers.IntegerField(help_text="Findings and fixings not known.")
    weakest = serializers.JSONField(help_text="Rule, place and chance of the weakest limit.")


class VerdictSawSerializer(serializers.Serializer):
    """One part as the survey foretells its saw mark; never a release."""

    part = serializers.CharField()
    height = serializers.CharField()
    distance = VerdictLengthSerializer(allow_null=True)
    uncertainty = serializers.CharField(allow_null=True, help_text="Standard, k = 1.")
    mark = serializers.CharField(allow_null=True)
    released = serializers.BooleanField(help_text="Always false: a mark is released on site.")
    rounded = serializers.CharField()
    end = serializers.CharField()
    saw = serializers.CharField(allow_null=True, help_text="From which end, and the kerf's side.")
    kerf = serializers.CharField()
    kerf_from = serializers.CharField()
    brackets_take = serializers.CharField(allow_null=True)
    agree_within = serializers.CharField(
        allow_null=True, help_text="How far the reading as fixed may be off what is foretold."
    )
    do = serializers.CharField()


class VerdictRailSerializer(serializers.Serializer):
    """The head rail at its widest opening, with its panels anywhere along it."""

    span = serializers.CharField()
    panels = serializers.ListField(child=serializers.CharField())
    reaction = VerdictForceSerializer()
    moment = serializers.CharField()
    sag = VerdictLengthSerializer()
    slam_factor = serializers.CharField()
    source: Any = serializers.JSONField()


class VerdictLoadSerializer(serializers.Serializer):
    """What the worst screw or anchor of one place gets and holds, or why neither is told."""

    place = serializers.CharField()
    surface = serializers.CharField()
    height = serializers.CharField()
    bears = serializers.CharField(allow_blank=True)
    cases = serializers.ListField(child=serializers.JSONField())
    capacity = serializers.JSONField(help_text="Null where it is not told.")
    settings = serializers.JSONField()
    why = serializers.CharField(allow_null=True)
    used = serializers.CharField(
        required=False,
        allow_null=True,
        help_text="Greatest share of the capacity that is used: `0.36`. From rules version 4.",
    )
    by: Any = serializers.JSONField(
        required=False,
        help_text="Who says what it holds: a standard, or the anchor's evaluation report. From version 4.",
    )


class VerdictPaneSerializer(serializers.Serializer):
    """One pane: centre, least thickness, the mark to look for, handle side, hinges, lift."""

    name = serializers.CharField()
    centre = serializers.JSONField()
    thickness_least = serializers.CharField(allow_null=True, help_text="As measured.")
    safety = serializers.JSONField(help_text="Category and the mark to look for.")
    why = serializers.CharField(allow_null=True)
    handle = serializers.CharField(allow_null=True, help_text="left, right or unknown")
    hinges = serializers.JSONField(help_text="Null unless it hangs on hinges.")
    lift = serializers.JSONField(help_text="A screen of the lift only.")


class VerdictSealingSerializer(serializers.Serializer):
    """Cartridges for all runs, and how long nothing wet may touch them."""

    volume = serializers.CharField(allow_null=True)
    cartridge = serializers.CharField()
    waste_percent = serializers.CharField()
    cartridges = serializers.IntegerField(allow_null=True)
    product = serializers.CharField(allow_null=True)
    air = serializers.JSONField(help_text="The air that the cure is told for.")
    cure = serializers.JSONField(help_text="Hours, because of which document.")
    do = serializers.CharField()
