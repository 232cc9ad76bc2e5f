"""The row that a stock endpoint of the framework creates: as wide as a plain survey would be."""

from typing import Any

from django.db import models


def _length(**kwargs: Any) -> Any:
    return models.DecimalField(max_digits=9, decimal_places=3, **kwargs)


class Kind(models.TextChoices):
    """What the row is about."""

    CURB = "curb", "Curb"
    TUB_DECK = "tub_deck", "Tub deck"


class Plain(models.Model):
    """Seventeen columns: eight decimals, a choice, texts and timestamps."""

    reference = models.CharField(max_length=40)
    measured_by = models.CharField(max_length=120)
    tool = models.CharField(max_length=60)
    kind = models.CharField(max_length=10, choices=Kind)
    notes = models.TextField(blank=True)
    width_bottom = _length()
    width_middle = _length()
    width_top = _length()
    height_left = _length()
    height_right = _length()
    lean_left = _length()
    lean_right = _length()
    depth = _length()
    taken_at = models.DateTimeField()
    created_at = models.DateTimeField(auto_now_add=True)
    updated_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.reference
