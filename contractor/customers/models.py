"""Whom the firm works for, and where."""

from typing import Any

from django.db import models

from contractor.api.numbered import Numbered
from fitcheck.rules.way_in_kinds import SIZES


class Tongue(models.TextChoices):
    """In which language somebody is written to."""

    ENGLISH = "en", "English"
    SPANISH = "es", "Spanish"


class Reach(models.TextChoices):
    """By which way somebody wants to hear from the firm."""

    EMAIL = "email", "Mail"
    TEXT = "text", "Text message"
    NONE = "none", "No messages"


class Customer(Numbered):
    """Somebody who has a bathroom."""

    LETTER = "C"
    name = models.CharField(max_length=200)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=20, blank=True)
    language = models.CharField(max_length=2, choices=Tongue, default=Tongue.ENGLISH)
    preferred_channel = models.CharField(max_length=10, choices=Reach, default=Reach.EMAIL)
    notes = models.TextField(max_length=4000, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Site(Numbered):
    """A house or flat: its address, its clock, and how glass gets in."""

    LETTER = "S"
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="sites")
    street_address = models.CharField(max_length=200)
    extended_address = models.CharField(max_length=200, blank=True)
    address_locality = models.CharField(max_length=120)
    address_region = models.CharField(max_length=60, blank=True)
    postal_code = models.CharField(max_length=20, blank=True)
    address_country = models.CharField(max_length=2, default="US")
    time_zone = models.CharField(max_length=60)
    latitude = models.DecimalField(max_digits=8, decimal_places=6, null=True, blank=True)
    longitude = models.DecimalField(max_digits=9, decimal_places=6, null=True, blank=True)
    access_notes = models.TextField(max_length=4000, blank=True)
    year_built = models.PositiveSmallIntegerField(null=True, blank=True)
    passes = models.JSONField(default=list, blank=True)
    door_width = models.CharField(max_length=40, blank=True)
    door_height = models.CharField(max_length=40, blank=True)
    corridor_width = models.CharField(max_length=40, blank=True)
    corridor_beyond = models.CharField(max_length=40, blank=True)
    corridor_height = models.CharField(max_length=40, blank=True)
    stair_width = models.CharField(max_length=40, blank=True)
    stair_headroom = models.CharField(max_length=40, blank=True)
    stair_rise = models.CharField(max_length=40, blank=True)
    stair_going = models.CharField(max_length=40, blank=True)
    landing_depth = models.CharField(max_length=40, blank=True)
    landing_width = models.CharField(max_length=40, blank=True)
    landing_height = models.CharField(max_length=40, blank=True)
    lift_width = models.CharField(max_length=40, blank=True)
    lift_depth = models.CharField(max_length=40, blank=True)
    lift_height = models.CharField(max_length=40, blank=True)
    lift_door_width = models.CharField(max_length=40, blank=True)
    lift_door_height = models.CharField(max_length=40, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.street_address}, {self.address_locality}"

    def way_in(self) -> dict[str, Any]:
        """What is told of its way in: the kinds of places that glass passes, and their sizes."""
        return {name: getattr(self, name) for name in ("passes", *SIZES)}
