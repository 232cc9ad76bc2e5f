"""Something that happened: one row a write, read as history and as the change feed."""

import uuid

from django.db import models

from contractor.api.numbered import Numbered


def event_id() -> uuid.UUID:
    """Make the id that history, feed and every later delivery of one notice share."""
    return uuid.uuid4()


class Notice(models.Model):
    """Who did what to which row, when, why, and what changed. Append-only."""

    id = models.BigAutoField(primary_key=True)
    event = models.UUIDField(default=event_id, editable=False)
    type = models.CharField(max_length=60)
    noun = models.CharField(max_length=30)
    about = models.CharField(max_length=60)
    version = models.PositiveIntegerField(default=1)
    caller = models.CharField(max_length=40)
    caller_name = models.CharField(max_length=120)
    reason = models.CharField(max_length=300, blank=True)
    changes = models.JSONField(default=dict)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        indexes = [models.Index(fields=["noun", "about", "id"], name="notice_of_row")]

    def __str__(self) -> str:
        return f"{self.type} {self.about}"


class Endpoint(Numbered):
    """Where a program of someone else wants to hear of notices; `secret` signs what is sent there."""

    LETTER = "WH"
    name = models.CharField(max_length=60)
    address = models.URLField(max_length=500)
    types = models.JSONField(default=list, blank=True)
    secret = models.CharField(max_length=80)
    position = models.BigIntegerField(default=0)
    is_on = models.BooleanField(default=True)
    off_why = models.CharField(max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class DeliveryState(models.TextChoices):
    """Where a delivery stands."""

    WAITING = "waiting", "Waits for its next try"
    SENDING = "sending", "A worker sends it"
    DONE = "done", "Taken"
    FAILED = "failed", "Given up; the reason is told"


class Delivery(Numbered):
    """One notice for one endpoint: its tries, and what came of the last."""

    LETTER = "WD"
    endpoint = models.ForeignKey(Endpoint, models.PROTECT, related_name="deliveries")
    notice = models.ForeignKey(Notice, models.PROTECT, related_name="deliveries")
    state = models.CharField(max_length=10, choices=DeliveryState, default=DeliveryState.WAITING)
    attempts = models.PositiveSmallIntegerField(default=0)
    next_try = models.DateTimeField()
    lease_until = models.DateTimeField(null=True, blank=True)
    status_code = models.PositiveSmallIntegerField(null=True, blank=True)
    trouble = models.CharField(max_length=300, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["endpoint", "notice"], name="notice_once_an_endpoint"),
        ]
        indexes = [models.Index(fields=["state", "next_try"], name="delivery_due")]

    def __str__(self) -> str:
        return f"{self.number} {self.state}"
