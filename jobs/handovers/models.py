"""A handover: to whom the work was handed over, what they were told, and their signature."""

from django.db import models

from jobs.installs.models import Install


class Signature(models.Model):
    """A signature as an image, named by the SHA-256 digest of what the tablet sent."""

    digest = models.CharField(max_length=64, primary_key=True)
    file = models.FileField(upload_to="signatures/%Y/%m")
    media_type = models.CharField(max_length=20)
    caller = models.CharField(max_length=40)
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["received_at"]

    def __str__(self) -> str:
        return self.digest[:12]


class Handover(models.Model):
    """One handover of an install; its id was made on the tablet."""

    id = models.UUIDField(primary_key=True)
    install = models.ForeignKey(Install, models.PROTECT, related_name="handovers")
    person = models.CharField(max_length=120)
    person_is = models.CharField(max_length=60, blank=True)
    label_shown = models.BooleanField()
    care_sheet_given = models.BooleanField()
    tempered_told = models.BooleanField()
    use_told = models.BooleanField(default=False)
    signature = models.CharField(max_length=64, blank=True)
    unsigned_why = models.CharField(max_length=300, blank=True)
    follow_up_on = models.DateField(null=True, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    said_by = models.CharField(max_length=120)
    signed_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    caller = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["signed_at", "id"]

    def __str__(self) -> str:
        return f"to {self.person}"

    def lacks(self) -> list[str]:
        """What is still to be done before the work counts as handed over."""
        told = (
            (self.label_shown, "Show the label on the glass."),
            (self.care_sheet_given, "Give the care sheet."),
            (self.tempered_told, "Tell how tempered glass fails: without warning, all at once."),
            (self.signature or self.unsigned_why, "Have it signed, or say why it is not."),
        )
        return [says for done, says in told if not done]
