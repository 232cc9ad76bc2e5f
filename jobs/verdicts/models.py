"""All findings for an opening and a kit, with everything needed to work them out again."""

from typing import Any

from django.db import models
from uuid_utils.compat import uuid7

from contractor.api.written import WrittenField
from fitcheck.kits.models import RuleSheet
from jobs.openings.models import Opening
from jobs.surveys.models import Survey


def verdict_id() -> Any:
    """Make a sortable id."""
    return uuid7()


class State(models.TextChoices):
    """What a verdict says."""

    FITS = "fits", "Fits"
    TIGHT = "tight", "Tight: inside the guard band"
    FAILS = "fails", "Fails"
    UNKNOWN = "unknown", "Unknown: a reading is missing or in dispute"


class Verdict(models.Model):
    """One answer, frozen: inputs, their digest, rules version, sheet version, result."""

    id = models.UUIDField(primary_key=True, default=verdict_id, editable=False)
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="verdicts")
    survey = models.ForeignKey(Survey, models.PROTECT, related_name="verdicts")
    sheet = models.ForeignKey(RuleSheet, models.PROTECT, related_name="verdicts")
    state = models.CharField(max_length=10, choices=State)
    rules_version = models.CharField(max_length=10)
    inputs = models.JSONField()
    inputs_digest = models.CharField(max_length=71)
    result: Any = WrittenField()
    given_by = models.CharField(max_length=120)
    given_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.opening.number} {self.state}"


class Depth(models.Model):
    """What takes longer to say of a verdict, kept beside it; the same inputs give the same again."""

    verdict = models.OneToOneField(Verdict, models.PROTECT, primary_key=True, related_name="depth")
    result: Any = WrittenField()
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.verdict_id} at length"
