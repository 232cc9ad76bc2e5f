"""Is anything against this booking? Every guard is asked in one place, for a booking, a move, a plan."""

from datetime import timedelta

from django.db.models import Q, QuerySet
from django.utils import timezone

from jobs.bookings.crews import facts_of
from jobs.bookings.curing import cured_at
from jobs.bookings.guards import Wanted, check_answered_for, check_forbidden, objections
from jobs.bookings.models import Booking, State, Visit
from jobs.bookings.standing import Standing, standing_of
from jobs.bookings.travel import Travel, site_place

NEAR = timedelta(hours=14)


def standing_bookings() -> QuerySet[Booking]:
    """Select bookings and holds that hold a crew's time now; run-out holds do not."""
    held = Q(state=State.HELD, held_until__gt=timezone.now())
    return Booking.objects.filter(Q(state=State.BOOKED) | held)


def answered_for(
    booking: Booking, standing: Standing | None, *, only_the_crew: bool = False
) -> list[dict[str, str]]:
    """Ask every guard about an unsaved booking; returns what its override answers for.

    Args:
        standing: what the job asks for; None to work it out.
        only_the_crew: leave verdicts and goods that are not here yet to be asked later.

    Raises:
        Problem: something forbids it, or is against it and nobody answers for it.
    """
    standing = standing or standing_of(booking.job, booking.visit)
    [facts] = facts_of([booking.crew], booking.starts_at, booking.ends_at)
    before, after = neighbours(booking)
    here = site_place(booking.job.site)
    legs = [site_place(one.job.site) if one else None for one in (before, after)]
    travel = Travel().learn([(legs[0], here), (here, legs[1])])
    cured = cured_at(booking.job) if booking.visit == Visit.FOLLOW_UP else None
    wanted = Wanted(booking, standing, before, after, cured)
    name, reason = booking.override_name, booking.override_reason
    verdicts = [] if only_the_crew else standing.against
    if verdicts and not (name and reason):  # told before what only concerns the crew
        check_answered_for(verdicts, objections(facts, wanted, travel), name=name, reason=reason)
    check_forbidden(facts, wanted)
    others = objections(facts, wanted, travel)
    return check_answered_for(verdicts, others, name=name, reason=reason)


def neighbours(booking: Booking) -> tuple[Booking | None, Booking | None]:
    """Find the crew's visit before and after this one; asked only where the site's place is known."""
    if site_place(booking.job.site) is None:
        return None, None
    rows = standing_bookings().filter(
        crew=booking.crew,
        ends_at__gt=booking.starts_at - NEAR,
        starts_at__lt=booking.ends_at + NEAR,
    )
    near = list(rows.exclude(pk=booking.pk).select_related("job__site").order_by("starts_at"))
    before = [one for one in near if one.ends_at <= booking.starts_at]
    after = [one for one in near if one.starts_at >= booking.ends_at]
    return (before[-1] if before else None), (after[0] if after else None)
