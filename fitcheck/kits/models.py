"""The catalogue: kits, and what each edition of their sheets demands, as versioned data."""

from functools import lru_cache
from typing import Any

from django.db import models

from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_parse import sheet_parse


class Kit(models.Model):
    """A boxed enclosure made by someone else."""

    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    maker = models.CharField(max_length=120)
    invented = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class RuleSheet(models.Model):
    """One published edition of a kit's sheet. Append-only: a correction is a new version."""

    kit = models.ForeignKey(Kit, models.PROTECT, related_name="sheets")
    number = models.PositiveIntegerField()
    body = models.JSONField()
    digest = models.CharField(max_length=71)
    published_at = models.DateTimeField(auto_now_add=True)
    published_by = models.CharField(max_length=120)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["kit", "number"], name="sheet_number_once_per_kit"),
        ]

    def __str__(self) -> str:
        return self.key

    @property
    def key(self) -> str:
        """What the sheet is called in addresses: kit and number."""
        return f"{self.kit.slug}:{self.number}"

    def reference(self) -> dict[str, Any]:
        """What a verdict's inputs keep of the sheet; its digest stands for the body."""
        return {"kit": self.kit.slug, "number": self.number, "digest": self.digest}

    def parsed(self) -> Sheet:
        """Read the body; a published sheet never changes, so each is read once per process."""
        return _parsed(self.pk, self.digest)


@lru_cache(maxsize=256)
def _parsed(key: int, digest: str) -> Sheet:
    return sheet_parse(RuleSheet.objects.values_list("body", flat=True).get(pk=key, digest=digest))
