"""Something that happened: one row a write, read as history and as the change feed."""

import uuid

from django.db import models


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
