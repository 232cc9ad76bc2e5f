"""What was ordered, what came, and how each piece was found."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.people.models import Member
from fitcheck.kits.models import RuleSheet
from jobs.jobs.models import Job
from jobs.openings.models import Opening


class Kind(models.TextChoices):
    """What is ordered."""

    KIT = "kit", "Boxed kit"
    GLASS = "glass", "Cut-to-size glass"
    PIECE = "piece", "Single pieces, as after damage"
    OWN = "own", "Bought by the customer"


class OrderState(models.TextChoices):
    """Whether the goods are still expected."""

    PLACED = "placed", "Placed"
    CANCELLED = "cancelled", "Cancelled"


class Order(Numbered):
    """Goods ordered for one job; its lines say piece by piece what must come."""

    LETTER = "OR"
    job = models.ForeignKey(Job, models.PROTECT, related_name="orders")
    kind = models.CharField(max_length=10, choices=Kind)
    supplier = models.CharField(max_length=120, blank=True)
    reference = models.CharField(max_length=60, blank=True)
    expected_on = models.DateField(null=True, blank=True)
    state = models.CharField(max_length=10, choices=OrderState, default=OrderState.PLACED)
    cancelled_why = models.CharField(max_length=300, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    ordered_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.supplier}"


class What(models.TextChoices):
    """What kind of piece a line is."""

    PANEL = "panel", "Panel"
    PART = "part", "Part"


class Line(Numbered):
    """One kind of piece that must come for one opening; `remakes` is the line that it makes good."""

    LETTER = "G"
    order = models.ForeignKey(Order, models.PROTECT, related_name="lines")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="goods")
    sheet = models.ForeignKey(RuleSheet, models.PROTECT, null=True, blank=True, related_name="+")
    what = models.CharField(max_length=10, choices=What)
    name = models.CharField(max_length=120)
    size = models.CharField(max_length=120, blank=True)
    mass = models.CharField(max_length=20, blank=True)
    count = models.PositiveSmallIntegerField(default=1)
    remakes = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="remade_by"
    )

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"


class Packaging(models.TextChoices):
    """How the packaging looked at the door."""

    SOUND = "sound", "Sound"
    DAMAGED = "damaged", "Crushed, torn or broken"
    WET = "wet", "Wet"
    NONE = "none", "None"


class Delivery(models.Model):
    """What a carrier brought for one order; its id was made by whoever took it in."""

    id = models.UUIDField(primary_key=True)
    order = models.ForeignKey(Order, models.PROTECT, related_name="deliveries")
    carrier = models.CharField(max_length=120)
    waybill = models.CharField(max_length=60, blank=True)
    arrived_at = models.DateTimeField()
    received_by = models.ForeignKey(Member, models.PROTECT, related_name="+")
    packaging = models.CharField(max_length=10, choices=Packaging)
    noted_at_door = models.BooleanField(default=False)
    notes = models.TextField(blank=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["received_at", "id"]
        verbose_name_plural = "deliveries"

    def __str__(self) -> str:
        return str(self.id)


class Condition(models.TextChoices):
    """How a piece was found."""

    SOUND = "sound", "Sound"
    DAMAGED = "damaged", "Damaged"
    SHORT = "short", "Short: not in the box"
    WRONG = "wrong", "Wrong: another piece, size or handing"


class Inspection(models.Model):
    """So many pieces of a line, looked over by one person at one time; superseded, never changed."""

    id = models.UUIDField(primary_key=True)
    delivery = models.ForeignKey(Delivery, models.PROTECT, related_name="inspections")
    line = models.ForeignKey(Line, models.PROTECT, related_name="inspections")
    condition = models.CharField(max_length=10, choices=Condition)
    count = models.PositiveSmallIntegerField()
    photos = models.JSONField(default=list)
    note = models.CharField(max_length=500, blank=True)
    inspected_by = models.CharField(max_length=120)
    inspected_at = models.DateTimeField()
    replaces = models.JSONField(default=list)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["received_at", "id"]

    def __str__(self) -> str:
        return f"{self.count} {self.condition}"
