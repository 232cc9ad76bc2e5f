"""Which installs have had their cure? Told once each, however many workers ask."""

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import F

from contractor.api.callers import SYSTEM
from contractor.notices.services import notice_record
from jobs.installs.models import Install
from jobs.jobs.life import job_follow


def installs_drying(*, now: datetime) -> list[UUID]:
    """List the installs whose cure is over and not yet told."""
    rows = Install.objects.filter(cured_at=None, earliest_use__lte=now)
    return list(rows.values_list("pk", flat=True)[:500])


@transaction.atomic
def install_dry(*, key: UUID, now: datetime) -> bool:
    """Call one install dry; one worker does, the others find it done. Announces `install.cured`."""
    waiting = Install.objects.filter(pk=key, cured_at=None, earliest_use__lte=now)
    if not waiting.update(cured_at=F("earliest_use"), version=F("version") + 1):
        return False
    install = Install.objects.select_related("booking__job").get(pk=key)
    notice_record(
        by=SYSTEM,
        type="install.cured",
        about=install.number,
        version=install.version,
        changes={"cured_at": [None, str(install.cured_at)]},
    )
    job_follow(by=SYSTEM, job=install.booking.job, action="cure")
    return True
