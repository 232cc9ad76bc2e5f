"""What shape has a saw plan on the wire: what is asked, what comes out?"""

from typing import Any

from rest_framework import serializers

from contractor.api.fields import LengthField
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from fitcheck.checks.members import (
    Field,
    choice,
    computed,
    flag,
    length,
    shape,
    source,
    state,
    text,
    texts,
    whole,
)
from jobs.sawplans.models import SawPlan, State

KINDS = ("new", "offcut")
CONVENTIONS = ("between", "per_piece")
AS_SENT = "A length with its unit: `1/8 in`, `3 mm`."


class SawSettingsSerializer(StrictSerializer):
    """How the saw works; each has the firm's default."""

    kerf = serializers.CharField(required=False, help_text=f"Width of the cut. {AS_SENT}")
    trim = serializers.CharField(required=False, help_text=f"Off both ends of a new bar. {AS_SENT}")
    least_useful = serializers.CharField(
        required=False, help_text=f"Shorter offcuts are not kept. {AS_SENT}"
    )
    convention = serializers.ChoiceField(
        CONVENTIONS, required=False, help_text="A kerf between two parts, or one for each."
    )


class AskedBarSerializer(StrictSerializer):
    """Bars of one length: new ones that can be bought, or an offcut from the rack."""

    name = serializers.CharField(max_length=80, required=False)
    kind = serializers.ChoiceField(KINDS, required=False)
    length = LengthField()
    cost = serializers.DecimalField(9, 2, min_value=0, required=False)
    count = serializers.IntegerField(min_value=0, max_value=10_000, required=False)
    profile = serializers.CharField(
        max_length=160, required=False, help_text="Default: every profile."
    )


class AskedPieceSerializer(StrictSerializer):
    """Parts of one length."""

    job = serializers.CharField(max_length=40, help_text="`J-0007`, or any name.")
    part = serializers.CharField(max_length=80)
    length = LengthField()
    count = serializers.IntegerField(min_value=1, max_value=2000, required=False)
    profile = serializers.CharField(
        max_length=160,
        required=False,
        help_text="Only parts of one profile share a bar. Default: the part.",
    )


class AskSawPlanSerializer(StrictSerializer):
    """Ask for the plan of a week, or of parts that you list."""

    week = serializers.DateField(
        required=False, help_text="Any day of the week whose installs are sawn for."
    )
    bar_length = LengthField(required=False, help_text=f"Of bars that can be bought. {AS_SENT}")
    bar_cost = serializers.DecimalField(
        9, 2, min_value=0, required=False, help_text="Of one bar, in the firm's money. Default: 1."
    )
    saw = SawSettingsSerializer(required=False)
    stock = AskedBarSerializer(many=True, required=False)
    pieces = AskedPieceSerializer(many=True, required=False)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """Take a week or parts, one of the two, and give each part its profile and each bar its name."""
        if ("week" in attrs) == ("pieces" in attrs):
            hint = "Send `week`; or list `pieces`."
            raise Problem(
                "one_of_two",
                "Name a week or list parts, one of the two.",
                hint=hint,
                pointer="/week",
            )
        if "pieces" in attrs:
            attrs["pieces"] = [_piece(one) for one in attrs["pieces"]]
        attrs["stock"] = [_bar(n, one) for n, one in enumerate(attrs.get("stock", []), 1)]
        return attrs


def _piece(one: dict[str, Any]) -> dict[str, Any]:
    told = {"opening": None, "count": 1, "status": "given", "because": "as listed"}
    return {**told, "profile": one["part"], **one}


def _bar(number: int, one: dict[str, Any]) -> dict[str, Any]:
    named = {"name": f"{one.get('kind', 'bar')} {number}", "kind": "new", **one}
    return {**named, **({"cost": f"{one['cost']:.2f}"} if "cost" in one else {})}


PIECE = shape(
    "SawnFor",
    "Parts of one length that are sawn.",
    job=text(),
    opening=text(allow_null=True),
    part=text(),
    profile=text("Only parts of one profile share a bar."),
    length=length(),
    count=whole(),
    status=choice(("predicted", "released", "given")),
    because=text("Where the length comes from."),
)
BAR = shape(
    "StockBar",
    "Bars of one length.",
    name=text(),
    kind=choice(KINDS),
    length=length(),
    cost=text(required=False),
    count=whole(required=False),
    profile=text(required=False),
)
LEFT_OUT = shape(
    "LeftOut",
    "What is not sawn, and why.",
    job=text(),
    opening=text(),
    part=text(),
    why=text(),
)
SAWN = shape(
    "SawnPart",
    "One part in its place along the bar.",
    job=text(),
    part=text(),
    length=computed(),
    to=text(),
    from_inch=text("The same in inches, rounded up.", required=False),
    to_inch=text("The same in inches, rounded down.", required=False),
    **{"from": text("From the bar's left end.")},
)
SAWN_BAR = shape(
    "SawnBar",
    "One bar: its parts from left to right, and what is left at its right end.",
    bar=text(),
    kind=choice(KINDS),
    length=computed(),
    trim_each_end=text(),
    trim_each_end_inch=text("The same in inches, rounded up.", required=False),
    pieces=SAWN(many=True),
    rest=computed(),
    offcut_kept=flag("Long enough for the rack."),
    lost=text("Trim, kerfs, and a rest that is not kept."),
)
UNCUT = shape(
    "UncutPart",
    "Parts for which there is no bar.",
    job=text(),
    part=text(),
    length=computed(),
    count=whole(),
    why=text(),
)


def _proof() -> dict[str, Field]:
    return {
        "state": state(),
        "bar_count": whole(),
        "cost": text(),
        "bound": text("No plan costs less."),
        "gap": text("Cost less bound."),
        "proven": flag("Nothing cheaper exists."),
        "waste_percent": text(),
        "cautions": texts(),
    }


PROFILE = shape(
    "ProfilePlan",
    "The bars of one profile.",
    profile=text(),
    bars=SAWN_BAR(many=True),
    method=text(),
    uncut=UNCUT(many=True),
    do=text(),
    source=source(),
    saw=shape("SawCounted", "How kerfs were counted.", convention=text(), counted=text())(),
    **_proof(),
)
RESULT = shape(
    "SawPlanResult",
    "The whole plan.",
    profiles=PROFILE(many=True),
    uncut_count=whole(),
    **_proof(),
)


class SawPlanSerializer(serializers.ModelSerializer):
    """What was asked, how far it is, and the bars."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="saw-plan-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    stage = serializers.CharField(source="get_state_display", read_only=True)
    pieces = PIECE(many=True, source="asked.pieces", read_only=True)
    stock = BAR(many=True, source="asked.stock", read_only=True)
    saw = SawSettingsSerializer(source="asked.saw", read_only=True)
    left_out = LEFT_OUT(many=True, read_only=True)
    result = RESULT(read_only=True, allow_null=True)
    bars_url = serializers.SerializerMethodField(help_text="The drawing; empty until done.")

    class Meta:
        model = SawPlan
        fields = [
            "id",
            "url",
            "week_of",
            "state",
            "stage",
            "percent",
            "attempts",
            "trouble",
            "bars_url",
            "pieces",
            "stock",
            "saw",
            "left_out",
            "result",
            "digest",
            "asked_by",
            "asked_at",
            "done_at",
            "version",
        ]

    def get_bars_url(self, plan: SawPlan) -> str:
        """Where the drawing is."""
        if plan.state != State.DONE:
            return ""
        address: str = self.context["view"].reverse_action("bars", args=[plan.number])
        return address


class SawPlanRowSerializer(SawPlanSerializer):
    """A plan in a list."""

    class Meta:
        model = SawPlan
        fields = [
            name
            for name in SawPlanSerializer.Meta.fields
            if name not in {"pieces", "stock", "saw", "left_out", "result"}
        ]

    pieces = stock = saw = left_out = result = None  # type: ignore[assignment]
