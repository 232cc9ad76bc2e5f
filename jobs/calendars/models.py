"""A secret address at which somebody's own calendar program reads the visits of a crew or a member."""

from django.db import models

from contractor.api.numbered import Numbered
from contractor.people.models import Crew, Member, Token


class CalendarFeed(Numbered, Token):
    """One feed, of one crew or of one member; whoever holds its address reads it, until it is revoked."""

    LETTER = "CF"
    PREFIX = "cal"
    crew = models.ForeignKey(Crew, models.PROTECT, null=True, blank=True, related_name="feeds")
    member = models.ForeignKey(Member, models.PROTECT, null=True, blank=True, related_name="feeds")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(crew=None) ^ models.Q(member=None), name="feed_of_one"
            ),
        ]

    def __str__(self) -> str:
        return self.name
