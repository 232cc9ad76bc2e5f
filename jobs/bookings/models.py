"""A crew's time promised at a site."""

from zoneinfo import ZoneInfo

from django.db import models
from django.utils import timezone

from contractor.api.numbered import Numbered
from contractor.people.models import Crew
from jobs.jobs.models import Job


class Visit(models.TextChoices):
    """What the crew comes for."""

    SURVEY = "survey", "Survey"
    INSTALL = "install", "Install"
    FOLLOW_UP = "follow_up", "Follow-up"


class State(models.TextChoices):
    """Whether the time is still promised."""

    BOOKED = "booked", "Booked"
    HELD = "held", "Held for a while; nobody has confirmed it"
    LAPSED = "lapsed", "The hold ran out"
    NO_SHOW = "no_show", "The crew came and nobody let it in"
    CANCELLED = "cancelled", "Cancelled"


STANDING = (State.BOOKED.value, State.HELD.value)


class Booking(Numbered):
    """One visit. That no two booked or held ones of a crew overlap is the database's own rule."""

    LETTER = "B"
    job = models.ForeignKey(Job, models.PROTECT, related_name="bookings")
    crew = models.ForeignKey(Crew, models.PROTECT, related_name="bookings")
    visit = models.CharField(max_length=10, choices=Visit)
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    state = models.CharField(max_length=10, choices=State, default=State.BOOKED)
    held_until = models.DateTimeField(null=True, blank=True)
    hands_needed = models.PositiveSmallIntegerField(default=1)
    override_name = models.CharField(max_length=120, blank=True)
    override_reason = models.CharField(max_length=300, blank=True)
    overridden = models.JSONField(default=list)
    notes = models.TextField(max_length=4000, blank=True)
    cancelled_why = models.CharField(max_length=300, blank=True)
    no_show_why = models.CharField(max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")),
                name="booking_ends_after_start",
            ),
        ]
        indexes = [
            models.Index(fields=["crew", "starts_at"], name="booking_of_crew"),
            models.Index(
                fields=["held_until"], condition=models.Q(state="held"), name="booking_held"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.visit}"

    @property
    def is_lapsed(self) -> bool:
        """Whether this is a hold whose time is over, swept or not."""
        return (
            self.state == State.HELD
            and self.held_until is not None
            and self.held_until <= timezone.now()
        )

    def local(self) -> str:
        """The span in the site's own time, in words."""
        zone = ZoneInfo(self.job.site.time_zone)
        start, end = self.starts_at.astimezone(zone), self.ends_at.astimezone(zone)
        day = "" if start.date() == end.date() else f"{end:%a} {end.day} {end:%b} "
        return (
            f"{start:%a} {start.day} {start:%b %Y}, {start:%H:%M}–{day}{end:%H:%M}"
            f" ({self.job.site.time_zone}, site time)"
        )
