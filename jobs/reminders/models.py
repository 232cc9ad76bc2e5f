"""Rules that say who is told what and when, and the rows that come of them: the row is the truth."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.people.models import Member
from jobs.reminders.choices import Channel, From, Same, Sense, State, Whom


class Rule(Numbered):
    """After something, by so much, unless something else: tell somebody this."""

    LETTER = "RR"
    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    is_on = models.BooleanField(default=True)
    hears = models.JSONField(default=list, blank=True)
    visits = models.JSONField(default=list, blank=True)
    counts_from = models.CharField(max_length=20, choices=From, default=From.NOTICE)
    offset_days = models.SmallIntegerField(default=0)
    offset_hours = models.SmallIntegerField(default=0)
    at = models.CharField(max_length=5, blank=True)
    working_days = models.BooleanField(default=False)
    at_night = models.BooleanField(default=False)
    unless = models.JSONField(default=list, blank=True)
    same = models.CharField(max_length=10, choices=Same, default=Same.ABOUT)
    whom = models.CharField(max_length=12, choices=Whom, default=Whom.CUSTOMER)
    channel = models.CharField(max_length=10, choices=Channel, default=Channel.PREFERRED)
    sense = models.CharField(max_length=12, choices=Sense, default=Sense.ALWAYS)
    late_after_hours = models.PositiveSmallIntegerField(default=24)
    subject = models.CharField(max_length=160)
    text = models.TextField(max_length=4000)
    subject_es = models.CharField(max_length=160, blank=True)
    text_es = models.TextField(max_length=4000, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Reminder(Numbered):
    """One message due at one moment: once for one rule, one row and one occasion."""

    LETTER = "RM"
    rule = models.ForeignKey(Rule, models.PROTECT, related_name="reminders")
    rule_version = models.PositiveIntegerField(default=1)
    noun = models.CharField(max_length=30, default="booking")
    about = models.CharField(max_length=60)
    occasion = models.CharField(max_length=60)
    heard = models.BigIntegerField(default=0)
    job = models.ForeignKey("jobs.Job", models.PROTECT, null=True, related_name="reminders")
    booking = models.ForeignKey(
        "bookings.Booking", models.PROTECT, null=True, related_name="reminders"
    )
    member = models.ForeignKey(Member, models.PROTECT, null=True, related_name="+")
    due_at = models.DateTimeField()
    sense_until = models.DateTimeField(null=True, blank=True)
    time_zone = models.CharField(max_length=60, default="UTC")
    channel = models.CharField(max_length=10, choices=Channel, default=Channel.EMAIL)
    to = models.CharField(max_length=254)
    language = models.CharField(max_length=5, default="en")
    subject = models.CharField(max_length=200)
    text = models.TextField()
    message_id = models.CharField(max_length=120, unique=True)
    state = models.CharField(max_length=10, choices=State, default=State.DUE)
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    handed_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    trouble = models.CharField(max_length=300, blank=True)
    planned_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["rule", "about", "occasion"], name="one_reminder_of_an_occasion"
            ),
        ]
        indexes = [models.Index(fields=["state", "due_at"], name="reminder_due")]

    def __str__(self) -> str:
        return f"{self.about} {self.due_at:%Y-%m-%d} {self.state}"


class Heard(models.Model):
    """How far the rules have listened to the notices; one row."""

    name = models.CharField(max_length=20, unique=True)
    position = models.BigIntegerField(default=0)
    trouble = models.CharField(max_length=300, blank=True)

    def __str__(self) -> str:
        return f"{self.name} at {self.position}"


class DigestWish(models.Model):
    """Whether one member of the office wants the morning's digest by mail; none said means yes."""

    member = models.OneToOneField(Member, models.PROTECT, related_name="digest_wish")
    wants = models.BooleanField(default=True)

    def __str__(self) -> str:
        return f"{self.member}: {self.wants}"
