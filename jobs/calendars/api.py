"""Calendar feeds over HTTP: issued and revoked by the office, read by whoever holds the address."""

from datetime import timedelta
from hashlib import sha256
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseNotFound
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe
from rest_framework import serializers

from contractor.api.desk import Desk
from contractor.api.limits import count
from contractor.api.numbers import NumberField
from contractor.api.problems import Problem
from contractor.people.api import REVOKE, TokenSerializer, TokenView
from contractor.people.models import Crew, Member
from jobs.calendars.feed import feed_text
from jobs.calendars.models import CalendarFeed
from jobs.calendars.services import feed_find, feed_issue, feed_revoke

FEED_DAYS = 366


class CalendarFeedSerializer(TokenSerializer):
    """A feed without its secret; `token` is its whole address, shown in the answer that makes it."""

    url = serializers.HyperlinkedIdentityField(
        view_name="calendar-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    crew = serializers.SlugRelatedField(
        slug_field="slug",
        queryset=Crew.objects.filter(is_active=True),
        required=False,
        allow_null=True,
        help_text="Whose visits; or name a member.",
    )
    member = NumberField(
        letter="M",
        queryset=Member.objects.filter(is_active=True),
        required=False,
        allow_null=True,
    )

    class Meta:
        model = CalendarFeed
        fields = [
            "id",
            "url",
            "name",
            "crew",
            "member",
            "expires_at",
            "revoked_at",
            "revoked_why",
            "token",
            "version",
        ]
        read_only_fields = ["revoked_at", "revoked_why", "version"]

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """A feed is of one crew or of one member."""
        if bool(attrs.get("crew")) == bool(attrs.get("member")):
            raise Problem(
                "one_of_two",
                "A calendar is of one crew or of one member.",
                hint="Send `crew` or `member`, one of them.",
                pointer="/crew",
            )
        return attrs


class CalendarFeedView(TokenView):
    """Addresses at which a calendar program reads a crew's or a member's visits."""

    name = "Calendars"
    queryset = CalendarFeed.objects.select_related("crew", "member")
    serializer_class = CalendarFeedSerializer
    letter = "CF"
    desk = Desk(
        add="Issue a calendar address",
        searches={"member": "/api/v1/members/"},
        words={
            "expires_at": ("Expires", "With offset, 2027-02-23T17:00:00-06:00; empty: in a year.")
        },
        columns=("id", "name", "crew", "member", "expires_at", "revoked_at", "revoked_why"),
        tasks=(REVOKE,),
    )

    def make(self, **values: Any) -> CalendarFeed:
        """Issue the address."""
        values.setdefault("expires_at", timezone.now() + timedelta(days=FEED_DAYS))
        feed, secret = feed_issue(by=self.caller, **values)
        feed.fresh_token = address_of(secret)  # type: ignore[attr-defined]
        return feed

    def take_back(self, row: CalendarFeed, why: str) -> CalendarFeed:
        """Take the address back at once."""
        return feed_revoke(by=self.caller, feed=row, why=why)


def address_of(secret: str) -> str:
    """Print the whole address of a feed."""
    return f"{settings.PUBLIC_URL}{reverse('calendar-file', args=[secret])}"


@require_safe
def calendar_file(request: HttpRequest, secret: str) -> HttpResponse:
    """Answer a calendar program: 200 with the feed, 304 when nothing changed, 404 for any other secret."""
    passes, _, wait = count(
        f"address:{request.META.get('REMOTE_ADDR', '')}", settings.RATE_LIMIT_PER_MINUTE
    )
    if not passes:
        return HttpResponse(status=429, headers={"Retry-After": str(int(wait) + 1)})
    feed = feed_find(secret=secret, now=timezone.now())
    if feed is None:
        return HttpResponseNotFound("This calendar is not served.", content_type="text/plain")
    text = feed_text(feed)
    tag = f'"{sha256(text).hexdigest()}"'
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response["ETag"] = tag
    response["Cache-Control"] = "private, no-cache"
    response["Content-Disposition"] = 'attachment; filename="calendar.ics"'
    return get_conditional_response(request, etag=tag, response=response) or response
