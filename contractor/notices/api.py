"""What happened, and since when? History of a row and the change feed of the firm."""

import base64
import binascii
from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE, OFFICE, SCHEDULER
from contractor.api.desk import Desk
from contractor.api.filters import Filter
from contractor.api.problems import Problem
from contractor.api.views import ListAndRead, Room
from contractor.notices.feed import settled_after
from contractor.notices.models import Notice

FEED_MOST = 500


class NoticeSerializer(serializers.ModelSerializer):
    """One notice."""

    class Meta:
        model = Notice
        fields = [
            "event",
            "type",
            "noun",
            "about",
            "version",
            "caller_name",
            "reason",
            "changes",
            "at",
        ]


class HistoryView(ListAndRead):
    """Who changed a row, when, why, and from what to what."""

    name = "History"
    queryset = Notice.objects.all()
    serializer_class = NoticeSerializer
    roles = {"list": EVERYONE - {SCHEDULER}, "retrieve": frozenset({OFFICE})}
    lookup_field = "event"
    desk = Desk(columns=("at", "type", "about", "caller_name", "reason", "changes"))
    filters = {
        "noun": Filter("noun", "Kind of row, for example `booking`."),
        "about": Filter("about", "Number or id of the row, for example `B-0001`."),
        "type": Filter("type", "For example `booking.made`."),
    }
    nouns_of_crews = ("booking", "packet", "install", "mark", "handover", "stock")

    def get_queryset(self) -> QuerySet[Notice]:
        """Leave out of a crew's view what would tell of another crew's visits."""
        rows: QuerySet[Notice] = super().get_queryset()
        if self.request is not None and self.caller.sees_own_crews_only:
            return rows.exclude(noun__in=self.nouns_of_crews)
        return rows


@extend_schema_serializer(many=False)
class ChangesSerializer(serializers.Serializer):
    """One stretch of the feed."""

    results = NoticeSerializer(many=True)
    next = serializers.CharField(help_text="Send as `since` to go on from here.")
    more = serializers.BooleanField(help_text="More is waiting already.")


class ChangesView(Room):
    """The change feed: ask again with `next` for what happened since; nothing is skipped."""

    name = "Changes"
    queryset = Notice.objects.all()
    serializer_class = ChangesSerializer
    roles = {"list": frozenset({OFFICE, SCHEDULER})}
    reads = {"list": frozenset({"since", "limit"})}
    scope = "changes"
    pagination_class = None
    desk = Desk(columns=("at", "type", "about", "caller_name", "reason"))
    filter_backends: list[Any] = []
    nouns_of_scheduler = ("booking", "crew")

    @extend_schema(
        parameters=[
            OpenApiParameter(
                "since", str, description="Cursor of the last answer; none: the start."
            ),
            OpenApiParameter("limit", int, description=f"1 to {FEED_MOST}, default 100."),
        ]
    )
    def list(self, request: Request) -> Response:
        """Give the next stretch after the cursor."""
        since = self._cursor(request.query_params.get("since", ""))
        limit = self._limit(request.query_params.get("limit", "100"))
        rows = list(self._settled(since)[: limit + 1])
        shown = rows[:limit]
        last = shown[-1].pk if shown else since
        data = {"results": shown, "next": _cursor_text(last), "more": len(rows) > limit}
        return Response(ChangesSerializer(data).data)

    def _settled(self, since: int) -> QuerySet[Notice]:
        """Rows after the cursor that no open transaction can still precede."""
        rows = settled_after(since)
        if self.caller.role == SCHEDULER:
            rows = rows.filter(noun__in=self.nouns_of_scheduler)
        return rows

    def _limit(self, text: str) -> int:
        if not text.isdecimal() or not 1 <= int(text) <= FEED_MOST:
            raise Problem(
                "limit_out_of_range",
                f"`limit` is {text!r}.",
                hint=f"Send 1 to {FEED_MOST}.",
                pointer="/limit",
            )
        return int(text)

    def _cursor(self, text: str) -> int:
        key = _cursor_key(text) if text else 0
        if key < 0:
            raise Problem(
                "cursor_unknown",
                "This cursor is none of ours.",
                hint="Send `next` of the last answer, or leave `since` out to start again.",
                pointer="/since",
            )
        return key


def _cursor_text(key: int) -> str:
    return base64.urlsafe_b64encode(f"n{key}".encode()).decode()


def _cursor_key(text: str) -> int:
    """Read a cursor; -1 unless it is, letter by letter, one that was given out here."""
    try:
        key = int(base64.urlsafe_b64decode(text.encode()).decode().removeprefix("n"))
    except (ValueError, binascii.Error):
        return -1
    return key if _cursor_text(key) == text else -1
