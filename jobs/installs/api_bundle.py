"""The visit's bundle over HTTP: one answer with all that a tablet needs where there is no signal."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.views import Room
from jobs.bookings.models import Booking
from jobs.installs.api_facts import READERS
from jobs.installs.bundle import bundle_of
from jobs.installs.shapes import StopNeedSerializer
from jobs.surveys.shapes import ReadingToldSerializer, ZoneSerializer
from jobs.verdicts.shapes import VerdictSerializer


class PredictedSerializer(serializers.Serializer):
    """The distance that the survey foretells."""

    distance = serializers.CharField()
    uncertainty = serializers.CharField()


class BundleCutSerializer(serializers.Serializer):
    """A part to be cut, and what its saw mark is held against."""

    part = serializers.CharField()
    stop = serializers.CharField()
    read = serializers.CharField(help_text="width or between_brackets")
    height = serializers.CharField()
    predicted = PredictedSerializer(allow_null=True)
    deduct = serializers.CharField()
    allowance = serializers.CharField(allow_null=True)
    stock = serializers.CharField()
    end = serializers.CharField()


class BundleStopSerializer(serializers.Serializer):
    """A hold point and what must be recorded there."""

    key = serializers.CharField()
    title = serializers.CharField()
    says = serializers.CharField()
    needs = StopNeedSerializer(many=True)


class BundlePieceSerializer(serializers.Serializer):
    """A piece of goods by its number, so that a record can name it."""

    id = serializers.CharField()
    name = serializers.CharField()
    count = serializers.IntegerField()
    state = serializers.CharField(help_text="sound, damaged, wrong, short or awaited")


class BundleFactSerializer(serializers.Serializer):
    """A record that is here already."""

    id = serializers.CharField()
    kind = serializers.CharField()
    stop = serializers.CharField()
    taken_at = serializers.CharField()


class BundleOpeningSerializer(serializers.Serializer):
    """One opening: readings, verdict, stops and cuts."""

    opening = serializers.CharField()
    name = serializers.CharField()
    install = serializers.CharField(help_text="Id of the install, when it is started.")
    outdated = serializers.BooleanField(help_text="Surveyed again since the verdict.")
    verdict = VerdictSerializer(allow_null=True)
    readings = ReadingToldSerializer(many=True)
    zones = ZoneSerializer(many=True)
    stops = BundleStopSerializer(many=True)
    cuts = BundleCutSerializer(many=True)
    pieces = BundlePieceSerializer(many=True)
    recorded = BundleFactSerializer(many=True)


class BundleSiteSerializer(serializers.Serializer):
    """Where it is."""

    address = serializers.CharField()
    access_notes = serializers.CharField(allow_blank=True)
    time_zone = serializers.CharField()
    year_built = serializers.IntegerField(allow_null=True)


class BundleVanSerializer(serializers.Serializer):
    """What is in the van."""

    item = serializers.CharField()
    name = serializers.CharField()
    on_hand = serializers.IntegerField()
    short = serializers.IntegerField()


class BundleVisitSerializer(serializers.Serializer):
    """When, by the site's clock, and who comes."""

    number = serializers.CharField()
    visit = serializers.CharField()
    start = serializers.CharField()
    end = serializers.CharField()
    zone = serializers.CharField()
    crew = serializers.CharField()
    members = serializers.ListField(child=serializers.CharField())


class BundleSerializer(serializers.Serializer):
    """Everything for one visit."""

    booking = serializers.CharField()
    job = serializers.CharField()
    summary = serializers.CharField()
    visit = BundleVisitSerializer()
    site = BundleSiteSerializer()
    customer = serializers.CharField()
    openings = BundleOpeningSerializer(many=True)
    van = BundleVanSerializer(many=True)


class BundleView(Room):
    """One GET before leaving the yard: everything that the tablet needs for the visit, without signal."""

    name = "Visit bundle"
    queryset = Booking.objects.select_related("job__site__customer", "crew").prefetch_related(
        "installs__records"
    )
    serializer_class = BundleSerializer
    letter = "B"
    roles = {"retrieve": READERS}
    http_method_names = ["get", "head", "options"]

    def get_queryset(self) -> Any:
        """Crews see their own visits."""
        rows = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.filter(crew__places__member_id=self.caller.member_id).distinct()
        return rows

    @extend_schema(responses=BundleSerializer)
    def retrieve(self, request: Request, **kwargs: Any) -> Response:
        """Give readings, verdict, stops with what to record, cuts, and what is in the van."""
        return Response(bundle_of(self.get_object(), request))
