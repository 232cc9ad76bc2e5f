"""What is claimed, of whom, on what evidence, by when, and what came of it; and what is still warranted."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.customers.models import Site
from fitcheck.kits.models import RuleSheet
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.models import Delivery, Order


class Kind(models.TextChoices):
    """What a claim is about."""

    DAMAGE = "damage", "Damage, or goods short or wrong"
    WARRANTY = "warranty", "Warranty"


class Against(models.TextChoices):
    """Who is to make it good."""

    MAKER = "maker", "Maker"
    CARRIER = "carrier", "Carrier"
    FIRM = "firm", "The firm itself"
    CUSTOMER = "customer", "Customer"


class State(models.TextChoices):
    """Where a claim stands."""

    OPEN = "open", "Open: not told to the other side yet"
    FILED = "filed", "Told to the other side"
    REFUSED = "refused", "Refused by the other side"
    SETTLED = "settled", "Settled"
    WITHDRAWN = "withdrawn", "Withdrawn"


class Outcome(models.TextChoices):
    """What came of it."""

    NONE = "none", "Nothing yet"
    REPLACED = "replaced", "Replaced"
    REPAIRED = "repaired", "Repaired"
    PAID = "paid", "Paid"
    PART_PAID = "part_paid", "Paid in part"
    NOTHING = "nothing", "Nothing was got"


class Claim(Numbered):
    """One claim of one job."""

    LETTER = "CL"
    job = models.ForeignKey(Job, models.PROTECT, related_name="claims")
    opening = models.ForeignKey(
        Opening, models.PROTECT, null=True, blank=True, related_name="claims"
    )
    delivery = models.ForeignKey(
        Delivery, models.PROTECT, null=True, blank=True, related_name="claims"
    )
    remake = models.ForeignKey(Order, models.PROTECT, null=True, blank=True, related_name="claims")
    sheet = models.ForeignKey(RuleSheet, models.PROTECT, null=True, blank=True, related_name="+")
    visits = models.ManyToManyField(Booking, related_name="claims")
    kind = models.CharField(max_length=10, choices=Kind)
    against = models.CharField(max_length=10, choices=Against)
    party = models.CharField(max_length=120, blank=True)
    summary = models.CharField(max_length=300)
    found_on = models.DateField()
    filed_on = models.DateField(null=True, blank=True)
    refused_on = models.DateField(null=True, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    outcome = models.CharField(max_length=10, choices=Outcome, default=Outcome.NONE)
    outcome_says = models.CharField(max_length=300, blank=True)
    cost = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    currency = models.CharField(max_length=3, blank=True)
    opened_at = models.DateTimeField(auto_now_add=True)
    settled_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.summary}"


class Deadline(Numbered):
    """One clock of a claim: by the end of which day who must do what, and where that is written."""

    LETTER = "DL"
    claim = models.ForeignKey(Claim, models.PROTECT, related_name="deadlines")
    clock = models.CharField(max_length=80)
    who = models.CharField(max_length=20)
    began_on = models.DateField()
    ends_on = models.DateField()
    do = models.CharField(max_length=300)
    note = models.CharField(max_length=400, blank=True)
    source = models.JSONField()
    met_on = models.DateField(null=True, blank=True)
    met_how = models.CharField(max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["ends_on", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["claim", "clock"], name="clock_once_per_claim"),
        ]

    def __str__(self) -> str:
        return f"{self.clock} by {self.ends_on}"


class Evidence(models.Model):
    """One photo of a claim by its digest, or a note: whose, and when. Added, never changed."""

    claim = models.ForeignKey(Claim, models.PROTECT, related_name="evidence")
    photo = models.CharField(max_length=64, blank=True)
    taken_at = models.DateTimeField()
    author = models.CharField(max_length=120)
    note = models.CharField(max_length=500, blank=True)
    caller = models.CharField(max_length=40)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "evidence"

    def __str__(self) -> str:
        return self.photo[:12] or self.note[:40]


class Statement(models.Model):
    """What somebody said about a claim. Added, never changed."""

    claim = models.ForeignKey(Claim, models.PROTECT, related_name="statements")
    party = models.CharField(max_length=10, choices=Against)
    name = models.CharField(max_length=120)
    text = models.TextField(max_length=4000)
    said_at = models.DateTimeField()
    caller = models.CharField(max_length=40)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.name}: {self.text[:40]}"


class Warranty(Numbered):
    """What the sheet of an installed kit promises, until when. It follows the site, whoever owns it."""

    LETTER = "W"
    site = models.ForeignKey(Site, models.PROTECT, related_name="warranties")
    opening = models.OneToOneField(Opening, models.PROTECT, related_name="warranty")
    sheet = models.ForeignKey(RuleSheet, models.PROTECT, related_name="+")
    installed_on = models.DateField()
    ends_on = models.DateField()
    terms = models.CharField(max_length=500, blank=True)
    source = models.JSONField()
    noted_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "warranties"

    def __str__(self) -> str:
        return f"{self.number} until {self.ends_on}"
