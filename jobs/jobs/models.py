"""A job: what the firm has been asked to do at one site, for one or several openings."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.customers.models import Site


class Job(Numbered):
    """Work at one site."""

    LETTER = "J"
    site = models.ForeignKey(Site, models.PROTECT, related_name="jobs")
    summary = models.CharField(max_length=200)
    opened_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.summary}"
