"""The hole in the bathroom that will hold one enclosure."""

from typing import Any

from django.db import models

from contractor.api.numbered import Numbered
from fitcheck.kits.models import Kit
from jobs.jobs.models import Job


class Enclosure(models.TextChoices):
    """What shape of enclosure the opening is for."""

    ALCOVE = "alcove", "Alcove, between two walls"
    CORNER = "corner", "Corner with a return panel"
    ANGLED = "angled", "Angled"
    FIXED_SCREEN = "fixed_screen", "Fixed screen"


class StandsOn(models.TextChoices):
    """What the enclosure stands on."""

    CURB = "curb", "Curb of a shower base"
    TUB_DECK = "tub_deck", "Deck of a tub"


class ShowerHeadSide(models.TextChoices):
    """Where the shower head is, seen from the room."""

    LEFT = "left", "Left"
    RIGHT = "right", "Right"
    UNKNOWN = "unknown", "Not seen yet"


class Opening(Numbered):
    """One opening of a job; `kit` is what the office has decided on, if it has."""

    LETTER = "O"
    job = models.ForeignKey(Job, models.PROTECT, related_name="openings", db_index=False)
    name = models.CharField(max_length=120, help_text="Which bathroom, for example `upstairs`.")
    enclosure = models.CharField(max_length=20, choices=Enclosure)
    stands_on = models.CharField(max_length=10, choices=StandsOn)
    shower_head_side = models.CharField(max_length=10, choices=ShowerHeadSide, default="unknown")
    kit = models.ForeignKey(Kit, models.PROTECT, null=True, blank=True, related_name="openings")
    notes = models.TextField(max_length=4000, blank=True)
    dropped_why = models.CharField(max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        # A hotel's job has thousands: its newest is found without looking at the others.
        indexes = [models.Index(fields=["job", "id"], name="opening_of_job")]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"

    def facts(self) -> dict[str, Any]:
        """What the rules are told about the opening itself."""
        return {
            "enclosure": self.enclosure,
            "stands_on": self.stands_on,
            "shower_head_side": self.shower_head_side,
            "year_built": self.job.site.year_built,
        }
