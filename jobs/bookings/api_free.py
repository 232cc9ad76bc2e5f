"""Free time over HTTP: a question that is answered and forgotten."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from contractor.api.callers import OFFICE, SCHEDULER
from contractor.api.desk import Banner, Desk, Press, Show, Table
from contractor.api.desk_values import shown
from contractor.api.numbers import NumberField
from contractor.api.problems import Problem
from contractor.api.strict import StrictSerializer
from contractor.api.views import Room
from contractor.people.models import Crew
from fitcheck.rules.quantity import kg_text
from jobs.bookings.free import Answer, Offer, Question, free_find
from jobs.bookings.models import Visit
from jobs.bookings.travel import site_place
from jobs.jobs.models import Job

MOST_DAYS, USUAL_DAYS = 92, 14
HOLD_HOURS = 48
Shape = dict[str, Any]


class FreeAskSerializer(StrictSerializer):
    """For which job, what for, how long, between which days."""

    job = NumberField(letter="J", queryset=Job.objects.select_related("site"))
    visit = serializers.ChoiceField(choices=Visit.choices)
    hours = serializers.DecimalField(
        max_digits=4,
        decimal_places=2,
        min_value=Decimal("0.25"),
        max_value=14,
        help_text="How long the visit takes, without the drive.",
    )
    first_day = serializers.DateField(required=False, help_text="At the site; empty: today.")
    last_day = serializers.DateField(required=False, help_text="Empty: two weeks later.")
    crew = serializers.SlugRelatedField(
        slug_field="slug",
        queryset=Crew.objects.filter(is_active=True),
        required=False,
        allow_null=True,
        help_text="Only this crew; empty: every crew.",
    )

    def validate(self, attrs: Shape) -> Shape:
        """Fill the days that were left out, and refuse a window that is none."""
        zone = ZoneInfo(attrs["job"].site.time_zone)
        today = timezone.now().astimezone(zone).date()
        first = attrs.setdefault("first_day", today)
        last = attrs.setdefault("last_day", first + timedelta(days=USUAL_DAYS))
        if not 0 <= (last - first).days < MOST_DAYS:
            raise Problem(
                "window",
                f"Between {first} and {last} are not 1 to {MOST_DAYS} days.",
                hint="Send a later last_day, or look at a shorter time.",
                pointer="/last_day",
            )
        return attrs


class OfferSerializer(serializers.Serializer):
    """One time at which one crew could come."""

    crew = serializers.CharField()
    starts_at = serializers.DateTimeField()
    ends_at = serializers.DateTimeField()
    local = serializers.CharField(help_text="By the clock at the site.")
    travel_before = serializers.IntegerField(help_text="Drive to the site [min].")
    travel_after = serializers.IntegerField(help_text="Drive on from it, or home [min].")
    added_travel = serializers.IntegerField(
        help_text="What the visit adds to the day's drive [min]."
    )
    drive_known = serializers.BooleanField(help_text="False when a place is missing.")
    hands = serializers.IntegerField(help_text="Who is there that day [persons].")
    rank = serializers.IntegerField(
        help_text="Minutes added to the drive, 10 for each day waited, 15 for each hand to spare, "
        "60 when the drive is not known."
    )
    why = serializers.CharField()


class RefusedCrewSerializer(serializers.Serializer):
    """A crew that cannot come, and why not."""

    crew = serializers.CharField()
    why = serializers.CharField()


class FreeAnswerSerializer(serializers.Serializer):
    """Offers, the best first, and the crews that cannot come."""

    job = serializers.CharField()
    visit = serializers.CharField()
    first_day = serializers.DateField()
    last_day = serializers.DateField()
    place_known = serializers.BooleanField(
        help_text="Whether the site has a latitude and longitude to reckon drives from."
    )
    hands_needed = serializers.IntegerField()
    qualifications_needed = serializers.ListField(child=serializers.CharField())
    panels = serializers.CharField(help_text="Their mass together.")
    against = serializers.ListField(
        child=serializers.DictField(child=serializers.CharField()),
        help_text="What is against the visit at any time; booking it needs an override.",
    )
    blocked = serializers.ListField(
        child=serializers.CharField(), help_text="Why nothing can be booked at all."
    )
    offers = OfferSerializer(many=True)
    refused = RefusedCrewSerializer(many=True)


class FreeView(Room):
    """Find the best times for a visit, across all crews. Nothing is kept or promised."""

    name = "Find free time"
    serializer_class = FreeAskSerializer
    pagination_class = None
    scope = "bookings"
    roles = {"create": frozenset({OFFICE, SCHEDULER})}
    desk = Desk(
        add="Find free time",
        form_first=True,
        question=True,
        searches={"job": "/api/v1/jobs/"},
        hides=frozenset(FreeAnswerSerializer().fields),
        words={
            "job": ("Job", "Its number; or type some words of it or of the street, and choose."),
            "hours": ("Hours", "How long the visit takes, without the drive."),
        },
    )
    http_method_names = ["post", "options"]

    @extend_schema(
        request=FreeAskSerializer,
        responses={200: FreeAnswerSerializer},
        operation_id="bookings_free",
    )
    def create(self, request: Request) -> Response:
        """Answer with ranked offers and with every crew that cannot come; 200, nothing is made."""
        body = self.get_serializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = dict(body.validated_data)
        hours = asked.pop("hours")
        question = Question(length=timedelta(hours=float(hours)), **asked)
        return Response(_told(question, free_find(question)))

    def desk_show(self, row: Any) -> Show:
        """Show the offers with a button each, and why the other crews cannot come."""
        if not row:
            return Show()
        banners = [
            Banner("fails", f"Damaged: {one}. Nothing can be booked.") for one in row["blocked"]
        ]
        banners += [
            Banner(one["state"], f"{one['says']} Booking needs somebody who answers for it.")
            for one in row["against"]
        ]
        if not row["place_known"]:
            banners.append(Banner("unknown", "The site has no latitude and longitude: no drives."))
        heads = ("When, at the site", "Crew", "Drive there / on", "Added", "Why", "Book", "Hold")
        lines = [_line(row, one, self.request) for one in row["offers"]]
        refused = [(shown(one["crew"], "crew"), one["why"]) for one in row["refused"]]
        return Show(
            banners,
            tables=[
                Table("Free times, the best first", heads, lines, "No crew has such a time."),
                Table("Crews that cannot come", ("Crew", "Why not"), refused, "None."),
            ],
        )


def _told(question: Question, answer: Answer) -> Shape:
    standing, site = answer.standing, question.job.site
    zone = ZoneInfo(site.time_zone)
    return {
        "job": question.job.number,
        "visit": question.visit,
        "first_day": question.first_day.isoformat(),
        "last_day": question.last_day.isoformat(),
        "place_known": site_place(site) is not None,
        "hands_needed": standing.hands,
        "qualifications_needed": sorted(standing.qualifications),
        "panels": kg_text(standing.mass_ug),
        "against": standing.against,
        "blocked": list(standing.blocked),
        "offers": [_offer(one, zone) for one in answer.offers],
        "refused": [{"crew": crew.slug, "why": why} for crew, why in answer.refused],
    }


def _offer(one: Offer, zone: ZoneInfo) -> Shape:
    start, end = one.starts_at.astimezone(zone), one.ends_at.astimezone(zone)
    return {
        "crew": one.crew.slug,
        "starts_at": start.isoformat(),
        "ends_at": end.isoformat(),
        "local": f"{start:%a} {start.day} {start:%b %Y}, {start:%H:%M}–{end:%H:%M}",
        "travel_before": one.travel_before,
        "travel_after": one.travel_after,
        "added_travel": one.added,
        "drive_known": one.drive_known,
        "hands": one.hands,
        "rank": one.cost,
        "why": one.why,
    }


def _line(row: Shape, one: Shape, request: Request) -> list[Any]:
    values = {
        "job": row["job"],
        "crew": one["crew"],
        "visit": row["visit"],
        "local_start": _wall(one["starts_at"]),
        "local_end": _wall(one["ends_at"]),
    }
    path, known = reverse("booking-list", request=request), one["drive_known"]
    says = f"{one['local']} with {one['crew']}"
    return [
        one["local"],
        shown(one["crew"], "crew"),
        f"{one['travel_before']} / {one['travel_after']} min" if known else "not known",
        f"{one['added_travel']} min" if known else "",
        one["why"],
        Press("Book this", path, values, says),
        Press("Hold two days", path, {**values, "hold_hours": HOLD_HOURS}, says),
    ]


def _wall(text: str) -> str:
    return datetime.fromisoformat(text).replace(tzinfo=None).isoformat(timespec="minutes")
