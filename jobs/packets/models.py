"""The frozen, numbered paper for one visit."""

import secrets

from django.db import models

from contractor.notices.wanted import Wanted

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


class Stage(models.TextChoices):
    """What a worker is doing with it."""

    QUEUED = "queued", "Waiting for a worker"
    CLAIMED = "claimed", "A worker has taken it"
    DRAWING = "drawing", "The drawings are made"
    SETTING = "setting", "The pages are set"
    STORING = "storing", "The file is stored"
    DONE = "done", "Ready"
    FAILED = "failed", "Given up; the reason is told"


PERCENT = {
    "queued": 0, "claimed": 10, "drawing": 20, "setting": 50, "storing": 90, "done": 100, "failed": 0,
}  # fmt: skip


class Paper(models.TextChoices):
    """Which sheet it is printed on."""

    A4 = "a4", "A4"
    LETTER = "letter", "Letter"
    LABEL = "label", "Label, 100 × 62 mm each (labels only)"


class Kind(models.TextChoices):
    """What the paper is for."""

    SURVEY = "survey", "Survey visit: what to read, and how"
    INSTALL = "install", "Install visit: the whole packet"
    FOLLOW_UP = "follow_up", "Follow-up visit: what to look at"
    RECEIVING = "receiving", "Receiving: what must arrive"
    HANDOVER = "handover", "Handover: the customer's sheet"
    CLAIM = "claim", "Claim: how, by when, what is damaged"
    LABELS = "labels", "Labels for panels and parts"


class Language(models.TextChoices):
    """In which language our own words are printed."""

    ENGLISH = "en", "English"
    SPANISH = "es", "Español"


class Packet(Wanted):
    """Data copied when it was asked for, its digest, and the file rendered from it once."""

    LETTER = "P"
    job = models.ForeignKey("jobs.Job", models.PROTECT, related_name="packets")
    booking = models.ForeignKey(
        "bookings.Booking", models.PROTECT, null=True, blank=True, related_name="packets"
    )
    paper = models.CharField(max_length=10, choices=Paper, default=Paper.LETTER)
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.INSTALL)
    language = models.CharField(max_length=5, choices=Language, default=Language.ENGLISH)
    code = models.CharField(max_length=9, unique=True, default=short_code)
    data = models.JSONField(default=dict)
    digest = models.CharField(max_length=71, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    stage = models.CharField(max_length=10, choices=Stage, default=Stage.QUEUED)
    file = models.FileField(upload_to="packets/%Y/%m", blank=True)
    file_digest = models.CharField(max_length=71, blank=True)
    superseded_by = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="+"
    )
    superseded_why = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="packet_wanted")]

    def __str__(self) -> str:
        return f"{self.number} {self.kind} {self.state}"
