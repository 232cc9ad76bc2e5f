"""Which papers does the invented firm have printed? One of each kind, for the first install booked."""

from typing import Any

from contractor.config.demo.story import story
from contractor.people.models import Member
from jobs.bookings.models import Booking, State, Visit
from jobs.packets.models import Kind, Packet, Paper
from jobs.packets.services import packet_ask
from jobs.verdicts.services import verdict_outdated, verdict_standing


def papers_tell(rows: dict[str, Any], office: Member) -> None:
    """Find or ask for a paper of each kind; a worker sets them once it runs."""
    booking = next(filter(_ready, (rows[one["ref"]] for one in story()["bookings"])), None)
    if booking is None:
        return
    for kind in Kind.values:
        paper = Paper.LABEL if kind == Kind.LABELS else Paper.LETTER
        if not Packet.objects.filter(job=booking.job, kind=kind).exists():
            packet_ask(
                by=office.caller(), job=booking.job, booking=booking, kind=kind, paper=paper.value
            )


def _ready(booking: Booking) -> bool:
    """Tell whether a booking is an install that stands, of openings whose verdicts are up to date."""
    if booking.visit != Visit.INSTALL or booking.state != State.BOOKED:
        return False
    verdicts = [verdict_standing(opening=one) for one in booking.job.openings.all()]
    return all(one is not None and not verdict_outdated(verdict=one) for one in verdicts)
