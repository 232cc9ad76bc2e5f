"""The morning's digest over HTTP, and whether one gets it by mail."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import OFFICE
from contractor.api.desk import Banner, Desk, Show
from contractor.api.idempotency import once
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import Room
from contractor.people.models import Member
from jobs.reminders.digest import MOST, digest_headline, digest_lines, digest_text
from jobs.reminders.digest_sections import firm_date
from jobs.reminders.models import DigestWish, Reminder
from jobs.reminders.services import digest_wish

OFFICE_ONLY = frozenset({OFFICE})


class LineSerializer(serializers.Serializer):
    """One thing to know."""

    section = serializers.CharField()
    about = serializers.CharField(allow_blank=True, help_text="Number of the row, if it has one.")
    text = serializers.CharField()


@extend_schema_serializer(many=False)
class DigestSerializer(serializers.Serializer):
    """What the office must know today."""

    day = serializers.DateField(help_text="By the firm's clock.")
    headline = serializers.CharField()
    by_mail = serializers.BooleanField(help_text="Whether you get it by mail.")
    results = LineSerializer(many=True)
    text = serializers.CharField(help_text="As it stands in the mail.")


class WishSerializer(StrictSerializer):
    """Whether you want the digest by mail each morning."""

    wants = serializers.BooleanField(initial=True)


class WishedSerializer(serializers.Serializer):
    """What is set for a member."""

    id = serializers.CharField(help_text="Number of the member.")
    url = serializers.CharField()
    wants = serializers.BooleanField()


class DigestView(Room):
    """Today's visits, what is late, what is near; the same that goes out by mail each morning."""

    name = "Today"
    queryset = Reminder.objects.none()
    serializer_class = WishSerializer
    roles = {"list": OFFICE_ONLY, "create": OFFICE_ONLY}
    reads = {"list": frozenset({"limit"})}
    pagination_class = None
    filter_backends: list[Any] = []
    desk = Desk(
        add="By mail each morning",
        done="Kept",
        columns=("section", "about", "text"),
        words={"wants": ("Send me the digest each working morning", "")},
    )
    http_method_names = ["get", "post", "head", "options"]

    @extend_schema(
        operation_id="digest_retrieve",
        parameters=[OpenApiParameter("limit", int, description=f"Lines a section, 1 to {MOST}.")],
        responses=DigestSerializer,
    )
    def list(self, request: Request) -> Response:
        """Gather the digest as it stands at this moment."""
        now = timezone.now()
        lines = digest_lines(now=now, most=_limit(request.query_params.get("limit", str(MOST))))
        return Response(
            {
                "day": firm_date(now).isoformat(),
                "headline": digest_headline(lines),
                "by_mail": self._wants(),
                "results": [
                    {"section": one.section, "about": one.about, "text": one.text} for one in lines
                ],
                "text": digest_text(lines),
            }
        )

    def _wants(self) -> bool:
        wish = DigestWish.objects.filter(member_id=self.caller.member_id or 0).first()
        return wish is None or wish.wants

    def desk_show(self, row: Any) -> Show:
        """Say the day in one line."""
        now = timezone.now()
        day = firm_date(now)
        told = f"{day:%A} {day.day} {day:%B}: {digest_headline(digest_lines(now=now))}."
        mail = "It reaches you by mail." if self._wants() else "It does not reach you by mail."
        return Show([Banner("", f"{told} {mail}")]) if row is None else Show()

    @extend_schema(request=WishSerializer, responses={201: WishedSerializer})
    def create(self, request: Request) -> Response:
        """Say whether you want it by mail; a member of the office says it for itself."""
        return once(request, self.caller, lambda: self._wished(request))

    def _wished(self, request: Request) -> Response:
        body = WishSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        member = Member.objects.get(pk=self.caller.member_id or 0)
        wish = digest_wish(by=self.caller, member=member, wants=body.validated_data["wants"])
        here = self.reverse_action("list")
        data = {"id": member.number, "url": here, "wants": wish.wants}
        return Response(data, status=201, headers={"Location": here})


def _limit(text: str) -> int:
    if not text.isdecimal() or len(text) > 4 or not 1 <= int(text) <= MOST:
        raise Problem(
            "limit_out_of_range",
            f"`limit` is {text!r}.",
            hint=f"Send 1 to {MOST}.",
            pointer="/limit",
        )
    return int(text)
