"""A job: what the firm has been asked to do at one site, for one or several openings."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.customers.models import Site


class State(models.TextChoices):
    """How far a job is; `next` says what comes after."""

    ENQUIRY = "enquiry", "Asked for, to be measured"
    SURVEYED = "surveyed", "Measured"
    DECIDED = "decided", "Kit decided"
    ORDERED = "ordered", "Goods ordered"
    RECEIVED = "received", "Goods received and inspected"
    BOOKED = "booked", "Install booked"
    INSTALLED = "installed", "Installed, curing"
    CURED = "cured", "Cured"
    HANDED_OVER = "handed_over", "Handed over"
    FOLLOWED_UP = "followed_up", "Followed up"
    CLOSED = "closed", "Closed"
    CANCELLED = "cancelled", "Cancelled"


class Job(Numbered):
    """Work at one site. After `survey_again_at` an earlier survey no longer counts."""

    LETTER = "J"
    site = models.ForeignKey(Site, models.PROTECT, related_name="jobs")
    summary = models.CharField(max_length=200)
    opened_at = models.DateTimeField(auto_now_add=True)
    state = models.CharField(max_length=12, choices=State, default=State.ENQUIRY)
    survey_again_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.summary}"
