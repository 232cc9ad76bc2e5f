"""An install under way, what was recorded at its stops, and the saw marks that were asked for."""

from django.db import models

from contractor.people.models import Member
from fitcheck.kits.models import RuleSheet
from jobs.bookings.models import Booking
from jobs.openings.models import Opening
from jobs.verdicts.models import Verdict


class Kind(models.TextChoices):
    """What a record says."""

    STOP = "stop", "Stop"
    SKIP = "skip", "Passed by a lead"
    SAWN = "sawn", "Sawn"
    AS_FIXED = "as_fixed", "Distance as fixed, by its reader"
    LOOKED = "looked", "Looked at as well, by a second person"
    SNAG = "snag", "Snag"
    SNAG_FIXED = "snag_fixed", "Snag put right"
    FINISH = "finish", "Work finished"


class RecordState(models.TextChoices):
    """What a record does for its stop."""

    DONE = "done", "Done"
    HELD = "held", "Held"
    INCOMPLETE = "incomplete", "Incomplete"
    SKIPPED = "skipped", "Skipped"
    NOTED = "noted", "Noted"


class MarkState(models.TextChoices):
    """May the saw be used?"""

    RELEASED = "released", "Released"
    HELD = "held", "Held"


class Install(models.Model):
    """One opening being fitted out on one visit; its id was made on the tablet.

    `stops` is the list of hold points as it was fitted to the kit when the install was started.
    """

    id = models.UUIDField(primary_key=True)
    booking = models.ForeignKey(Booking, models.PROTECT, related_name="installs")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="installs")
    sheet = models.ForeignKey(RuleSheet, models.PROTECT, related_name="+")
    size = models.CharField(max_length=40, blank=True)
    door = models.CharField(max_length=20)
    stops = models.JSONField()
    started_by = models.CharField(max_length=120)
    started_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    app = models.CharField(max_length=60, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)
    finished_at = models.DateTimeField(null=True, blank=True)
    earliest_use = models.DateTimeField(null=True, blank=True)
    cure = models.JSONField(default=dict)
    cured_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["received_at", "id"]
        constraints = [
            models.UniqueConstraint(fields=["booking", "opening"], name="one_install_of_opening"),
        ]

    def __str__(self) -> str:
        return f"install of {self.opening_id}"

    @property
    def number(self) -> str:
        """What it is called by in history."""
        return str(self.id)

    @property
    def state(self) -> str:
        """Where it stands: under way, curing, or dry."""
        if self.finished_at is None:
            return "under_way"
        return "cured" if self.cured_at else "curing"


class StartedAgain(models.Model):
    """A second tablet started the same install under an id of its own; its facts belong to the first."""

    id = models.UUIDField(primary_key=True)
    install = models.ForeignKey(Install, models.PROTECT, related_name="started_again")
    body = models.JSONField()
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["received_at", "id"]

    def __str__(self) -> str:
        return str(self.id)


class Record(models.Model):
    """What somebody recorded at a stop: a fact with its own time, added and never changed."""

    id = models.UUIDField(primary_key=True)
    install = models.ForeignKey(Install, models.PROTECT, related_name="records")
    kind = models.CharField(max_length=12, choices=Kind)
    stop = models.CharField(max_length=80, blank=True)
    state = models.CharField(max_length=12, choices=RecordState)
    body = models.JSONField()
    outcome = models.JSONField(default=dict)
    said_by = models.CharField(max_length=120)
    author = models.ForeignKey(Member, models.PROTECT, null=True, related_name="+")
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["taken_at", "id"]

    def __str__(self) -> str:
        return f"{self.kind} {self.stop}"


class Mark(models.Model):
    """A saw mark that was asked for: released with its length, or held with the reason. Never changed."""

    id = models.UUIDField(primary_key=True)
    install = models.ForeignKey(Install, models.PROTECT, related_name="marks")
    part = models.CharField(max_length=80)
    state = models.CharField(max_length=10, choices=MarkState)
    length = models.CharField(max_length=40, blank=True)
    verdict = models.ForeignKey(Verdict, models.PROTECT, null=True, related_name="+")
    body = models.JSONField()
    result = models.JSONField()
    said_by = models.CharField(max_length=120)
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["received_at", "id"]

    def __str__(self) -> str:
        return f"{self.part} {self.state}"
