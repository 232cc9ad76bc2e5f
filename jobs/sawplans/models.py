"""How a week's parts are sawn from the stock, bar by bar."""

from django.db import models

from contractor.notices.wanted import Wanted


class State(models.TextChoices):
    """Where the plan stands."""

    WANTED = "wanted", "Waiting for a worker"
    LAYING_OUT = "laying_out", "A worker lays out the bars"
    DONE = "done", "Ready"
    FAILED = "failed", "Given up; the reason is told"


class SawPlan(Wanted):
    """What was asked, frozen: parts, bars, saw. What came out: bars with their parts, and the proof."""

    LETTER = "SP"
    week_of = models.DateField(null=True, blank=True)
    asked = models.JSONField()
    left_out = models.JSONField(default=list)
    digest = models.CharField(max_length=71)
    state = models.CharField(max_length=10, choices=State, default=State.WANTED)
    result = models.JSONField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "lease_until"], name="saw_plan_wanted")]

    def __str__(self) -> str:
        return f"{self.number} {self.state}"
