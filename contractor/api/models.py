"""The key of a request that may be sent again, kept beside what it answered."""

from django.db import models


class IdempotencyKey(models.Model):
    """One caller's key, the fingerprint of its request, and the answer to give again."""

    caller = models.CharField(max_length=40)
    key = models.CharField(max_length=120)
    fingerprint = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField(default=0)
    body = models.JSONField(default=dict)
    headers = models.JSONField(default=dict)
    made_at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["caller", "key"], name="idempotency_key_once"),
        ]

    def __str__(self) -> str:
        return f"{self.caller} {self.key}"
