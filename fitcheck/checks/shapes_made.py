"""What shape has the glass made to measure that version 3 of the rules adds to a verdict?"""

from typing import Any

from rest_framework import serializers

from fitcheck.checks.shapes_deep import VerdictLengthSerializer

STATES = [(one, one) for one in ("fits", "tight", "fails", "unknown")]


class MadePlaceSerializer(serializers.Serializer):
    """A place on a panel, from its own left foot as seen from outside."""

    right = VerdictLengthSerializer()
    up = VerdictLengthSerializer()


class MadeEdgesSerializer(serializers.Serializer):
    """A length for each edge."""

    foot = VerdictLengthSerializer()
    right = VerdictLengthSerializer()
    head = VerdictLengthSerializer()
    left = VerdictLengthSerializer()


class MadeHoleSerializer(MadePlaceSerializer):
    """A round hole by its centre."""

    name = serializers.CharField()
    diameter = VerdictLengthSerializer()


class MadeNotchSerializer(serializers.Serializer):
    """A piece taken out of an edge."""

    name = serializers.CharField()
    corners = MadePlaceSerializer(many=True)


class MadeTolerancesSerializer(serializers.Serializer):
    """What the edition allows; null where it says nothing."""

    size = VerdictLengthSerializer(allow_null=True)
    diagonals = VerdictLengthSerializer(allow_null=True)
    bow = VerdictLengthSerializer(allow_null=True)


class MadePanelSerializer(serializers.Serializer):
    """One panel cut to the opening: outline, holes, notches, allowed errors, area, mass, centre."""

    name = serializers.CharField()
    corners = MadePlaceSerializer(
        many=True, help_text="Left foot, right foot, right head, left head."
    )
    edges = MadeEdgesSerializer(help_text="Lengths.")
    diagonals = VerdictLengthSerializer(many=True)
    tapers = MadeEdgesSerializer(help_text="Off plumb or level, by edge.")
    holes = MadeHoleSerializer(many=True)
    notches = MadeNotchSerializer(many=True)
    tolerances = MadeTolerancesSerializer()
    area = serializers.CharField()
    net_area = serializers.CharField(help_text="Less holes and notches.")
    glass_mass = serializers.CharField()
    mass = serializers.CharField(help_text="With hardware.")
    centre = MadePlaceSerializer(help_text="Of the glass; hardware is not weighed in.")
    handle = serializers.CharField(allow_null=True, help_text="left, right or unknown")
    order = serializers.IntegerField(help_text="Of hanging.")


class VerdictMadeGlassSerializer(serializers.Serializer):
    """Glass made to measure: each panel cut to the adjusted opening, or what that waits for."""

    state = serializers.ChoiceField(choices=STATES)
    why = serializers.CharField(allow_null=True, help_text="Why no panel can be cut yet.")
    panels = MadePanelSerializer(many=True, help_text="From left to right.")
    order: Any = serializers.JSONField(
        help_text="The question of /api/v1/checks/panels/, filled in; null where no panel can be cut."
    )
    cautions = serializers.ListField(child=serializers.CharField())
