"""Readings and zones: facts with an author, added and superseded, never changed."""

from typing import Any

from django.db import models
from uuid_utils.compat import uuid7

from contractor.people.models import Member
from fitcheck.rules.length import mm_text
from jobs.openings.models import Opening


class Survey(models.Model):
    """One visit's set of readings of an opening; its id was made on the tablet."""

    id = models.UUIDField(primary_key=True)
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="surveys")
    measured_by = models.ForeignKey(Member, models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    caller = models.CharField(max_length=40)
    app = models.CharField(max_length=60, blank=True)
    supersedes = models.UUIDField(null=True, blank=True)
    obstructions = models.JSONField(default=list)
    photos = models.JSONField(default=list)
    notes = models.TextField(blank=True)
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["received_at", "id"]

    def __str__(self) -> str:
        return str(self.id)


class Reading(models.Model):
    """One quantity, at one station, by one tool and person, at one time."""

    id = models.UUIDField(primary_key=True)
    survey = models.ForeignKey(Survey, models.PROTECT, related_name="readings")
    # The survey's own key leads to the opening and is checked; checking this copy too, for each of
    # twenty readings, only costs.
    opening = models.ForeignKey(
        Opening, models.PROTECT, related_name="readings", db_constraint=False
    )
    quantity = models.CharField(max_length=20)
    side = models.CharField(max_length=5)
    height = models.CharField(max_length=80, blank=True)
    over = models.CharField(max_length=80, blank=True)
    value = models.CharField(max_length=80)
    value_nm = models.BigIntegerField()
    tool = models.JSONField()
    read_by = models.CharField(max_length=120)
    taken_at = models.CharField(max_length=40)
    replaces = models.JSONField(default=list)
    note = models.CharField(max_length=500, blank=True)
    confirmed = models.BooleanField(default=False)

    class Meta:
        ordering = ["survey_id", "id"]

    def __str__(self) -> str:
        return f"{self.quantity} {self.value}"

    def as_input(self) -> dict[str, Any]:
        """The reading as the rules take it."""
        return {
            "id": str(self.id),
            "quantity": self.quantity,
            "side": self.side,
            "height": self.height or None,
            "over": self.over or None,
            "value": self.value,
            "tool": self.tool,
            "read_by": self.read_by,
            "taken_at": self.taken_at,
        }

    def as_told(self) -> dict[str, Any]:
        """The reading as it is given out: exactly as entered, and in exact millimetres."""
        own = {
            "value_exact": mm_text(self.value_nm),
            "replaces": self.replaces,
            "note": self.note,
            "confirmed": self.confirmed,
        }
        return self.as_input() | own


class Zone(models.Model):
    """A part of a wall or sill with one build-up."""

    id = models.UUIDField(primary_key=True)
    survey = models.ForeignKey(Survey, models.PROTECT, related_name="zones")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="zones", db_constraint=False)
    build_up = models.JSONField()
    replaces = models.JSONField(default=list)

    class Meta:
        ordering = ["survey_id", "id"]

    def __str__(self) -> str:
        return f"{self.build_up['surface']} {self.build_up['finish']}"

    def as_input(self) -> dict[str, Any]:
        """The zone as the rules take it."""
        return {"id": str(self.id), **self.build_up}

    def as_told(self) -> dict[str, Any]:
        """The zone as it is given out."""
        return self.as_input() | {"replaces": self.replaces}


class Photo(models.Model):
    """A photo, named by the SHA-256 digest of what the tablet sent."""

    digest = models.CharField(max_length=64, primary_key=True)
    file = models.FileField(upload_to="photos/%Y/%m")
    media_type = models.CharField(max_length=20)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    caller = models.CharField(max_length=40)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["received_at"]

    def __str__(self) -> str:
        return self.digest[:12]


def refusal_id() -> Any:
    """Make a sortable id."""
    return uuid7()


class Refused(models.Model):
    """A body that was refused because its ids are taken by other content, kept for a person to judge."""

    id = models.UUIDField(primary_key=True, default=refusal_id, editable=False)
    opening = models.CharField(max_length=20)
    code = models.CharField(max_length=40)
    body = models.JSONField()
    caller = models.CharField(max_length=40)
    caller_name = models.CharField(max_length=120)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.code} {self.opening}"
