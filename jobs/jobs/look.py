"""What do the rows say about a job? Asked once, when a guard first wants to know it."""

from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from django.db.models import Exists, OuterRef
from django.utils import timezone

from contractor.api.callers import SYSTEM, Caller
from jobs.bookings.models import Booking, Visit
from jobs.bookings.models import State as BookingState
from jobs.claims.models import Claim
from jobs.handovers.models import Handover
from jobs.installs.stand import InstallStanding, install_standing
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.standing import GoodsStanding, goods_standing
from jobs.surveys.models import Survey
from jobs.verdicts.many import verdicts_outdated, verdicts_standing
from jobs.verdicts.models import Verdict


@dataclass
class Look:
    """One look at a job, by somebody who gives a reason, at one moment."""

    job: Job
    by: Caller = SYSTEM
    reason: str = ""
    now: datetime = field(default_factory=lambda: timezone.now())  # by the clock of this moment

    @cached_property
    def openings(self) -> list[Opening]:
        """The openings that were not dropped."""
        return list(self.job.openings.filter(dropped_why="").select_related("kit", "job__site"))

    @cached_property
    def unsurveyed(self) -> list[str]:
        """Openings without a survey that still counts."""
        surveys = Survey.objects.filter(opening=OuterRef("pk"))
        if self.job.survey_again_at is not None:
            surveys = surveys.filter(received_at__gt=self.job.survey_again_at)
        waiting = self.job.openings.filter(~Exists(surveys), dropped_why="").order_by("pk")
        return [one.number for one in waiting.only("pk")]

    @cached_property
    def verdicts(self) -> list[tuple[Opening, Verdict | None]]:
        """The verdict that counts for each opening."""
        found = verdicts_standing(openings=self.openings)
        return [(one, found.get(one.pk)) for one in self.openings]

    @cached_property
    def outdated(self) -> list[str]:
        """Openings that were surveyed again, or described otherwise, after their verdict."""
        gone = verdicts_outdated(verdicts=[v for _, v in self.verdicts if v is not None])
        return [o.number for o, _ in self.verdicts if o.pk in gone]

    @cached_property
    def goods(self) -> GoodsStanding:
        """How the job's goods stand."""
        return goods_standing(job=self.job)

    @cached_property
    def bookings(self) -> list[Booking]:
        """Visits that still stand."""
        return list(self.job.bookings.filter(state=BookingState.BOOKED))

    @property
    def to_come(self) -> list[str]:
        """Visits that are promised and not over."""
        return [one.number for one in self.bookings if one.ends_at > self.now]

    @property
    def installs_booked(self) -> list[str]:
        """Install visits that stand."""
        return [one.number for one in self.bookings if one.visit == Visit.INSTALL]

    @cached_property
    def install(self) -> InstallStanding:
        """Where the job's installs stand together."""
        return install_standing(job=self.job)

    @cached_property
    def not_handed_over(self) -> list[str]:
        """Openings that nobody has signed for, or said why not; else what their handover lacks."""
        rows = Handover.objects.filter(install__opening__in=self.openings).select_related("install")
        lacks: dict[int, list[str]] = {}
        for one in rows.order_by("signed_at", "pk"):
            if lacks.get(one.install.opening_id) != []:  # once complete, it stays so
                lacks[one.install.opening_id] = one.lacks()
        return [
            " ".join([f"{one.number}:", *(lacks.get(one.pk) or ["nobody has signed for it."])])
            for one in self.openings
            if lacks.get(one.pk) != []
        ]

    @cached_property
    def claims_open(self) -> list[str]:
        """Claims of the job that are not settled."""
        return [one.number for one in Claim.objects.filter(job=self.job, settled_at=None)]
