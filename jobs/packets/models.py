"""The frozen, numbered paper for one visit."""

import secrets

from django.db import models

from contractor.api.numbered import Numbered

LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"


def short_code() -> str:
    """Make the letters printed on every page; without look-alikes, 40 bits."""
    letters = "".join(secrets.choice(LETTERS) for _ in range(8))
    return f"{letters[:4]}-{letters[4:]}"


class State(models.TextChoices):
    """Where the paper stands."""

    WANTED = "wanted", "Waiting for a worker"
    RENDERING = "rendering", "A worker sets it"
    DONE = "done", "Ready"
    FAILED = "failed", "Given up; the reason is told"


class Paper(models.TextChoices):
    """Which sheet it is printed on."""

    A4 = "a4", "A4"
    LETTER = "letter", "Letter"


class Packet(Numbered):
    """Data copied when it was asked for, its digest, and the file rendered from it once."""

    LETTER = "P"
    job = models.ForeignKey("jobs.Job", models.PROTECT, related_name="packets")
    booking = models.ForeignKey(
        "bookings.Booking", models.PROTECT, null=True, blank=True, related_name="packets"
    )
    paper = models.CharField(max_length=10, choices=Paper, default=Paper.LETTER)
    code = models.CharField(max_length=9, unique=True, default=short_code)
    data = models.JSONField(default=dict)
    digest = models.CharField(max_length=71, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    percent = models.PositiveSmallIntegerField(default=0)
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    trouble = models.CharField(max_length=500, blank=True)
    file = models.FileField(upload_to="packets/%Y/%m", blank=True)
    file_digest = models.CharField(max_length=71, blank=True)
    asked_by = models.CharField(max_length=120)
    asked_at = models.DateTimeField(auto_now_add=True)
    done_at = models.DateTimeField(null=True, blank=True)
    superseded_by = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="+"
    )
    superseded_why = models.CharField(max_length=200, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="packet_wanted")]

    def __str__(self) -> str:
        return f"{self.number} {self.state}"
