"""Does a paper's frozen data still give the same bytes?"""

import hashlib
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.files.base import ContentFile
from django.db.models import Q, QuerySet

from jobs.packets.models import Packet, State
from jobs.packets.paper.render import packet_render

SAME, RESTORED, OTHER = "same bytes", "file restored", "other bytes"


def packets_of_week(*, week: str) -> QuerySet[Packet]:
    """Find the finished packets whose visit starts in an ISO week, or that were asked for in it.

    Raises:
        ValueError: the week is none, such as 2026-W54.
    """
    start, end = week_span(week)
    visit = Q(booking__starts_at__gte=start, booking__starts_at__lt=end)
    asked = Q(booking=None, asked_at__gte=start, asked_at__lt=end)
    return Packet.objects.filter(visit | asked, state=State.DONE).order_by("pk")


def week_span(week: str) -> tuple[datetime, datetime]:
    """Return the moments at which an ISO week begins and ends, by the service's clock.

    Raises:
        ValueError: it is no week; its text says how one is written.
    """
    try:
        year, _, number = week.partition("-W")
        monday = date.fromisocalendar(int(year), int(number), 1)
    except ValueError as error:
        raise ValueError(f"{week!r} is no week: write one as 2026-W48") from error
    start = datetime.combine(monday, time(), ZoneInfo(settings.TIME_ZONE))
    return start, start + timedelta(days=7)


def packet_again(*, packet: Packet, keep: bool) -> str:
    """Set a finished packet again and say whether its bytes are the same; never changes its row.

    Args:
        packet: the packet, with its frozen data.
        keep: put a file back that the storage has lost, if its bytes are the same.
    """
    paper: Any = packet.paper
    pdf = packet_render(packet.data, paper=paper, fonts=settings.FONTS_DIR)
    if "sha256:" + hashlib.sha256(pdf).hexdigest() != packet.file_digest:
        return OTHER
    storage, name = packet.file.storage, str(packet.file.name)
    if storage.exists(name):
        return SAME
    if keep:
        storage.save(name, ContentFile(pdf))
    return RESTORED
