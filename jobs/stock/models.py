"""What a van carries: kinds of small parts, each movement of them, and what is on hand."""

from django.db import models

from contractor.people.models import Crew
from jobs.installs.models import Install


class Kind(models.TextChoices):
    """What sort of thing it is."""

    ANCHOR = "anchor", "Anchor"
    SCREW = "screw", "Screw"
    SEALANT = "sealant", "Sealant"
    OTHER = "other", "Other"


class Move(models.TextChoices):
    """What happened to the stock."""

    LOADED = "loaded", "Loaded into the van"
    USED = "used", "Used"
    COUNTED = "counted", "Counted: so many are there"


class Item(models.Model):
    """One kind of part; a sealant carries its product's data, by which the cure is worked out."""

    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=10, choices=Kind)
    unit = models.CharField(max_length=20, default="piece")
    reload_below = models.PositiveIntegerField(
        default=0, help_text="A van with fewer is loaded up."
    )
    reload_to = models.PositiveIntegerField(default=0, help_text="Up to this many.")
    data_sheet = models.JSONField(default=dict, blank=True)
    is_active = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def number(self) -> str:
        """What people call it by."""
        return self.slug


class Movement(models.Model):
    """So many of an item were loaded, used or counted in one crew's van: a fact with its own time."""

    id = models.UUIDField(primary_key=True)
    crew = models.ForeignKey(Crew, models.PROTECT, related_name="movements")
    item = models.ForeignKey(Item, models.PROTECT, related_name="movements")
    move = models.CharField(max_length=10, choices=Move)
    amount = models.PositiveIntegerField()
    install = models.ForeignKey(
        Install, models.PROTECT, null=True, blank=True, related_name="movements"
    )
    short = models.PositiveIntegerField(default=0)
    note = models.CharField(max_length=300, blank=True)
    said_by = models.CharField(max_length=120)
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["taken_at", "id"]

    def __str__(self) -> str:
        return f"{self.move} {self.amount}"


class VanItem(models.Model):
    """How many of one item are in one crew's van, worked out from the movements by their own times."""

    crew = models.ForeignKey(Crew, models.PROTECT, related_name="van_items")
    item = models.ForeignKey(Item, models.PROTECT, related_name="van_items")
    on_hand = models.PositiveIntegerField(default=0)
    short = models.PositiveIntegerField(default=0)
    to_load = models.PositiveIntegerField(default=0)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["crew", "item"], name="item_once_in_van")]

    def __str__(self) -> str:
        return f"{self.crew_id} {self.item_id}"
