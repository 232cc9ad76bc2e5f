"""The catalogue of kits and their rule sheets over HTTP."""

from typing import Any

from rest_framework import serializers

from contractor.api.callers import EVERYONE, OFFICE, SCHEDULER
from contractor.api.desk import Desk
from contractor.api.filters import Filter
from contractor.api.inputs import inputs_checked
from contractor.api.problems import FieldProblem
from contractor.api.strict import StrictModelSerializer
from contractor.api.views import CreateOnce, ListAndRead
from fitcheck.kits.models import Kit, RuleSheet
from fitcheck.kits.services import kit_create, sheet_publish
from fitcheck.kits.shapes import SheetBodyField

READERS = EVERYONE - {SCHEDULER}
ROLES = {"list": READERS, "retrieve": READERS, "create": frozenset({OFFICE})}


class KitSerializer(StrictModelSerializer):
    """A boxed enclosure; `newest_sheet` is what a verdict uses unless it names a version."""

    url = serializers.HyperlinkedIdentityField(view_name="kit-detail", lookup_field="slug")
    newest_sheet = serializers.SerializerMethodField(
        help_text="`slug:number`, empty before the first."
    )

    class Meta:
        model = Kit
        fields = ["slug", "url", "name", "maker", "invented", "newest_sheet", "version"]
        read_only_fields = ["version"]

    def get_newest_sheet(self, kit: Kit) -> str:
        """Name the newest sheet."""
        numbers = [sheet.number for sheet in kit.sheets.all()]
        return f"{kit.slug}:{max(numbers)}" if numbers else ""


class KitView(ListAndRead, CreateOnce):
    """The catalogue."""

    name = "Kits"
    queryset = Kit.objects.prefetch_related("sheets")
    serializer_class = KitSerializer
    lookup_field = "slug"
    roles = ROLES
    search = ("name", "maker", "slug")
    brief = ("slug", "url", "name")
    desk = Desk(
        add="Add a kit",
        done="Kit added",
        columns=("slug", "name", "maker", "invented", "newest_sheet"),
    )
    http_method_names = ["get", "post", "head", "options"]

    def make(self, **values: Any) -> Kit:
        """Add the kit."""
        return kit_create(by=self.caller, **values)


class SheetSerializer(StrictModelSerializer):
    """One published edition of a kit's sheet; it is never changed, only followed by the next."""

    id = serializers.CharField(source="key", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="sheet-detail", lookup_field="key", lookup_url_kwarg="pk"
    )
    kit = serializers.SlugRelatedField(
        slug_field="slug", queryset=Kit.objects.all(), style={"base_template": "input.html"}
    )
    body = SheetBodyField(help_text="The rule sheet, format 1: every rule names its page.")

    class Meta:
        model = RuleSheet
        fields = ["id", "url", "kit", "number", "body", "digest", "published_at", "published_by"]
        read_only_fields = ["number", "digest", "published_at", "published_by"]

    def validate_body(self, value: Any) -> dict[str, Any]:
        """Refuse what is no object; the rules themselves are read by the service."""
        if not isinstance(value, dict):
            raise FieldProblem(
                "not_an_object", "A rule sheet is an object.", 'Send {"format": 1, …}.'
            )
        return value


class SheetRowSerializer(SheetSerializer):
    """A rule sheet in a list: without its body."""

    body = None  # type: ignore[assignment]

    class Meta(SheetSerializer.Meta):
        fields = [name for name in SheetSerializer.Meta.fields if name != "body"]


class SheetView(ListAndRead, CreateOnce):
    """Rule sheets; posting one publishes the kit's next version."""

    name = "Rule sheets"
    queryset = RuleSheet.objects.select_related("kit")
    serializer_class = SheetSerializer
    lookup_field = "pk"
    roles = ROLES
    filters = {"kit": Filter("kit__slug", "Short name of the kit.")}
    brief = ("id", "url", "kit", "number")
    desk = Desk(
        add="Publish a rule sheet",
        done="Rule sheet published",
        searches={"kit": "/api/v1/kits/"},
        columns=("id", "kit", "number", "published_at", "published_by"),
        hides=frozenset({"body"}),
    )
    http_method_names = ["get", "post", "head", "options"]

    def get_serializer_class(self) -> Any:
        """Give lists the short shape."""
        return SheetRowSerializer if self.action == "list" else SheetSerializer

    def get_queryset(self) -> Any:
        """Leave the bodies out of lists."""
        rows = super().get_queryset()
        return rows.defer("body") if self.action == "list" else rows

    def get_object(self) -> RuleSheet:
        """Find a sheet by `slug:number`."""
        slug, _, number = self.kwargs["pk"].partition(":")
        self.kwargs["pk"] = (
            self.get_queryset()
            .filter(kit__slug=slug, number=int(number))
            .values_list("pk", flat=True)
            .first()
            if number.isdecimal() and len(number) < 9
            else None
        )
        found: RuleSheet = super().get_object()
        return found

    def make(self, **values: Any) -> RuleSheet:
        """Publish the sheet."""
        with inputs_checked("/body"):
            return sheet_publish(by=self.caller, **values)
