"""What an error cost: every remake, miscut and call-back with its cause; and what a guard refused."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.people.models import Crew
from fitcheck.kits.models import Kit
from jobs.claims.models import Claim
from jobs.jobs.models import Job
from jobs.openings.models import Opening


class Kind(models.TextChoices):
    """What had to be done again."""

    REMAKE = "remake", "Remake: a piece ordered anew"
    MISCUT = "miscut", "Miscut"
    CALL_BACK = "call_back", "Call-back"
    OTHER = "other", "Other"


class Cause(models.TextChoices):
    """Why it went wrong; the trade's own list."""

    MISFIT_BOOKED = "misfit_booked", "Booked for an opening that the kit cannot fit"
    ONE_WIDTH = "one_width", "One width taken, rail cut to it"
    MISREAD = "misread", "Reading taken or written wrongly"
    STUD_MISSED = "stud_missed", "Bracket missed the stud"
    TILE_CRACKED = "tile_cracked", "Tile cracked or anchor spun"
    PIPE_HIT = "pipe_hit", "Screw into a pipe or cable"
    CUT_WRONG = "cut_wrong", "Rail or threshold cut wrong"
    TRANSIT = "transit", "Chipped or broken in transit"
    HANDLING = "handling", "Dropped or knocked while carried or hung"
    WAY_IN = "way_in", "Panel did not get in"
    HANDING = "handing", "Holes or handle on the wrong side"
    JUMPED_RAIL = "jumped_rail", "Door jumped the rail, metal on glass"
    CURE = "cure", "Used before the sealant cured; leak"
    OLD_PAPER = "old_paper", "Worked from last week's paper"
    NOT_TOLD = "not_told", "Customer was not told how to live with it"
    CLAIM_LATE = "claim_late", "Claim deadline missed"
    CUSTOMER_CHANGED = "customer_changed", "Customer changed the order"
    MAKER = "maker", "Maker's fault"
    OTHER = "other", "Other"


class CostState(models.TextChoices):
    """Has somebody written down what it cost?"""

    WRITTEN = "written", "Written"
    MISSING = "missing", "Missing: nobody has written it yet"


class Loss(Numbered):
    """One error and what it cost; `record` is where it was found on site, if it was.

    A cost that nobody has written stands at 0.00 and says so in `cost_state`.
    """

    LETTER = "L"
    job = models.ForeignKey(Job, models.PROTECT, related_name="losses")
    opening = models.ForeignKey(
        Opening, models.PROTECT, null=True, blank=True, related_name="losses"
    )
    claim = models.ForeignKey(Claim, models.PROTECT, null=True, blank=True, related_name="losses")
    record = models.OneToOneField(
        "installs.Record", models.PROTECT, null=True, blank=True, related_name="loss"
    )
    crew = models.ForeignKey(Crew, models.PROTECT, null=True, blank=True, related_name="losses")
    kit = models.ForeignKey(Kit, models.PROTECT, null=True, blank=True, related_name="losses")
    kind = models.CharField(max_length=10, choices=Kind)
    cause = models.CharField(max_length=20, choices=Cause)
    says = models.CharField(max_length=300)
    happened_on = models.DateField()
    cost = models.DecimalField(max_digits=12, decimal_places=2)
    currency = models.CharField(max_length=3)
    cost_state = models.CharField(max_length=10, choices=CostState, default=CostState.WRITTEN)
    recorded_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "losses"

    def __str__(self) -> str:
        return f"{self.number} {self.cause}"

    @property
    def cost_says(self) -> str:
        """What it cost in words, or that nobody has written it yet."""
        if self.cost_state == CostState.MISSING:
            return "cost missing"
        return f"{self.cost:.2f} {self.currency}"


class Save(Numbered):
    """One guard's refusal, once a day for a job; `overridden` when somebody answered for it later."""

    LETTER = "SV"
    job = models.ForeignKey(Job, models.PROTECT, related_name="saves")
    guard = models.CharField(max_length=40)
    day = models.DateField()
    says = models.CharField(max_length=500)
    caller = models.CharField(max_length=40)
    caller_name = models.CharField(max_length=120)
    overridden = models.BooleanField(default=False)
    said_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "guard", "day"], name="saved_once_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.guard}"
