"""A list that was sent in: its file, what the dry run says of each row, and whether it was taken over."""

from django.db import models

from contractor.api.callers import Caller
from contractor.api.numbered import Numbered


class Kind(models.TextChoices):
    """What the rows are."""

    CUSTOMERS = "customers", "Customers"
    SITES = "sites", "Sites"
    KITS = "kits", "Kits and their rule sheets"
    BOOKINGS = "bookings", "Bookings"


class Mode(models.TextChoices):
    """What is done when some rows are bad."""

    ALL = "all", "All rows or none"
    GOOD = "good", "The good rows; the bad ones stay out"


class State(models.TextChoices):
    """Where a list stands."""

    WANTED = "wanted", "Waits to be looked through"
    CHECKING = "checking", "A worker looks it through"
    CHECKED = "checked", "Looked through; nothing is written yet"
    ASKED = "asked", "Waits to be taken over"
    TAKING = "taking", "A worker takes it over"
    DONE = "done", "Taken over"
    FAILED = "failed", "Given up; the reason is told"


class ListImport(Numbered):
    """One file of rows; nothing of it is written before somebody says so."""

    LETTER = "LI"
    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(max_length=120)
    content = models.BinaryField()
    digest = models.CharField(max_length=71)
    mode = models.CharField(max_length=5, choices=Mode, default=Mode.ALL)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    rows = models.PositiveIntegerField(default=0)
    new = models.PositiveIntegerField(default=0)
    changed = models.PositiveIntegerField(default=0)
    same = models.PositiveIntegerField(default=0)
    bad = models.PositiveIntegerField(default=0)
    problems = models.JSONField(default=list)
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    trouble = models.CharField(max_length=300, blank=True)
    caller_role = models.CharField(max_length=20)
    caller_key = models.CharField(max_length=40)
    asked_by = models.CharField(max_length=120)
    asked_at = models.DateTimeField(auto_now_add=True)
    done_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="list_wanted")]

    def __str__(self) -> str:
        return f"{self.number} {self.kind} {self.state}"

    def caller(self) -> Caller:
        """Say in whose name the rows are written."""
        return Caller(self.caller_role, self.caller_key, self.asked_by)
