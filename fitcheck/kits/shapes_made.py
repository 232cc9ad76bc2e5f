"""What does a rule sheet say of glass made to measure? Described for the schema; the rules read it."""

from typing import Any

from rest_framework import serializers

from fitcheck.rules.pane_outline import EDGES
from fitcheck.rules.pane_read import LEVELS
from fitcheck.rules.sheet_made import MADE_SIDES
from fitcheck.rules.sheet_more import HANDLES

LENGTH = "A length with its unit: `1 3/4 in`, `45 mm`."
MAY_LACK: dict[str, Any] = {"required": False, "allow_null": True}


def _choice(values: Any, **how: Any) -> serializers.ChoiceField:
    return serializers.ChoiceField(choices=[(one, one) for one in values], **how)


def _length(says: str, **how: Any) -> serializers.CharField:
    return serializers.CharField(help_text=f"{says} {LENGTH}", **how)


class SheetGapsSerializer(serializers.Serializer):
    """The gaps round and between the panels."""

    left = _length("To the left wall.")
    right = _length("To the right wall.")
    head = _length("Under the opening's own head.")
    foot = _length("Over the sill.")
    between = _length("Between two panels. Default: none.", **MAY_LACK)


class SheetHoleSerializer(serializers.Serializer):
    """A hole by the distances of its centre from two edges."""

    name = serializers.CharField()
    across = _length("From that side, square to it.")
    up_from = _choice(LEVELS)
    up = _length("From foot or head, square to it.")
    diameter = _length("Of the hole.")

    def get_fields(self) -> dict[str, Any]:
        """Add `from`, which is a word of the language and of the sheet."""
        fields: dict[str, Any] = super().get_fields()
        fields["from"] = _choice(MADE_SIDES, help_text="`handle`: the side of the panel's handle.")
        return fields


class SheetNotchSerializer(serializers.Serializer):
    """A notch in an edge."""

    name = serializers.CharField()
    edge = _choice(EDGES)
    start = _length("From where the edge begins, going leftward round: the right side at the foot.")
    length = _length("Along the edge.")
    depth = _length("Into the panel.")
    radius = _length("Of its inner corners.")


class SheetMadePanelSerializer(serializers.Serializer):
    """One panel; without a width it shares what the others leave."""

    name = serializers.CharField()
    width = _length("Along its foot.", **MAY_LACK)
    least = _length("The narrowest that its maker allows.", **MAY_LACK)
    most = _length("The widest that its maker allows.", **MAY_LACK)
    holes = SheetHoleSerializer(many=True, **MAY_LACK)
    notches = SheetNotchSerializer(many=True, **MAY_LACK)
    hardware_mass = serializers.CharField(help_text="Of what hangs on it: `2.6 kg`.", **MAY_LACK)
    order = serializers.IntegerField(help_text="Of hanging.")
    handing = serializers.CharField(help_text="In the sheet's own words.", **MAY_LACK)
    handle = _choice(HANDLES, help_text="Side of its handle. Default: none.", **MAY_LACK)
    page = serializers.CharField()


class SheetMadeGlassSerializer(serializers.Serializer):
    """Panels made to measure, instead of boxed ones: `glazing` names their edition."""

    thickness = _length("By its name: `3/8 in`, `10 mm`.")
    gaps = SheetGapsSerializer()
    top = _length(
        "Of level panels, over the sill's left end; without it they follow the opening's head.",
        **MAY_LACK,
    )
    channel_hides = _length("How much of a taper channels hide round square panels.", **MAY_LACK)
    panels = SheetMadePanelSerializer(many=True, help_text="From left to right, seen from outside.")
    page = serializers.CharField()
