"""A proposal for one day: which visits would go to which crew at which time, and the drive that it saves."""

from django.db import models

from contractor.notices.wanted import Wanted


class State(models.TextChoices):
    """Where a proposal stands."""

    WANTED = "wanted", "Waiting for a worker"
    SOLVING = "solving", "A worker looks for a better order"
    DONE = "done", "Proposed; the office decides"
    FAILED = "failed", "Given up; the reason is told"
    ACCEPTED = "accepted", "Accepted; the visits are moved"
    DECLINED = "declined", "Declined; nothing was moved"


class DayPlan(Wanted):
    """What was asked, copied when it was asked, and what a worker proposes; bookings stay as they are."""

    LETTER = "DP"
    day = models.DateField()
    asked = models.JSONField(default=dict)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    seconds = models.PositiveSmallIntegerField(default=10)
    moves = models.JSONField(default=list)
    drive_before = models.PositiveIntegerField(null=True, blank=True)
    drive_after = models.PositiveIntegerField(null=True, blank=True)
    decided_why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="plan_wanted")]

    def __str__(self) -> str:
        return f"{self.number} for {self.day}"
