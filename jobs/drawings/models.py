"""A drawing that leaves the house as a file: what it shows, frozen, and who signed for it."""

from django.db import models

from contractor.notices.wanted import Wanted


class State(models.TextChoices):
    """Where the file stands."""

    WANTED = "wanted", "Waiting for a worker"
    DRAWING = "drawing", "A worker draws it"
    DONE = "done", "Ready"
    FAILED = "failed", "Given up; the reason is told"


class What(models.TextChoices):
    """What is drawn."""

    PANELS = "panels", "Panels cut to size, for the fabricator"
    ELEVATION = "elevation", "The opening from the front, to scale"


class Drawing(Wanted):
    """One file for somebody outside: its data copied when it was asked for, drawn once a version."""

    LETTER = "DR"
    opening = models.ForeignKey("openings.Opening", models.PROTECT, related_name="drawings")
    verdict = models.ForeignKey(
        "verdicts.Verdict", models.PROTECT, null=True, blank=True, related_name="drawings"
    )
    what = models.CharField(max_length=10, choices=What)
    order = models.JSONField(default=dict)
    says = models.CharField(max_length=10, blank=True)
    digest = models.CharField(max_length=71)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    file = models.FileField(upload_to="drawings/%Y/%m", blank=True)
    file_digest = models.CharField(max_length=71, blank=True)
    asked_member = models.BigIntegerField(null=True, blank=True)
    signed_by = models.CharField(max_length=120, blank=True)
    signed_at = models.DateTimeField(null=True, blank=True)
    sign_reason = models.CharField(max_length=300, blank=True)
    superseded_by = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="drawing_wanted")]

    def __str__(self) -> str:
        return f"{self.number} {self.state}"
