"""Something to be told to somebody at a time: the row is the truth, the sweep finds it."""

from django.db import models


class State(models.TextChoices):
    """Where a reminder stands."""

    WAITING = "waiting", "Waiting for its time"
    SENDING = "sending", "A worker has it"
    SENT = "sent", "Sent"
    FAILED = "failed", "Given up after three tries"
    CANCELLED = "cancelled", "No longer wanted"


class Reminder(models.Model):
    """One message due at one moment."""

    booking = models.ForeignKey("bookings.Booking", models.PROTECT, related_name="reminders")
    kind = models.CharField(max_length=20, default="follow_up")
    due_at = models.DateTimeField()
    to = models.EmailField()
    subject = models.CharField(max_length=200)
    text = models.TextField()
    message_id = models.CharField(max_length=120, unique=True)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    attempts = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    trouble = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["booking", "kind"], name="one_reminder_of_a_kind"),
        ]
        indexes = [models.Index(fields=["state", "due_at"], name="reminder_due")]

    def __str__(self) -> str:
        return f"{self.kind} {self.due_at:%Y-%m-%d} {self.state}"
