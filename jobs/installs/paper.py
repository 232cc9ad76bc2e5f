"""What does a paper copy of an install: when it is dry, its saw marks, its stops?"""

from typing import Any

from jobs.installs.models import Install, MarkState
from jobs.installs.stand import walked_of
from jobs.openings.models import Opening


def install_copy(*, opening: Opening) -> dict[str, Any] | None:
    """Copy what is recorded of an opening's newest install; None while nothing is.

    The end of the bead stands in it only when the cure is known: no paper works it out anew.
    """
    install = (
        Install.objects.filter(opening=opening)
        .select_related("booking__job__site")
        .order_by("received_at", "pk")
        .last()
    )
    if install is None:
        return None
    return {
        "zone": install.booking.job.site.time_zone,
        "started_at": install.started_at.isoformat(),
        "finished_at": install.finished_at.isoformat() if install.finished_at else None,
        "bead_at": install.cure.get("last_bead_at") if install.earliest_use else None,
        "cured_at": install.earliest_use.isoformat() if install.earliest_use else None,
        "stops": [{"title": one.stop["title"], "state": one.state} for one in walked_of(install)],
        "marks": [
            {"part": one.part, "length": one.length}
            for one in install.marks.filter(state=MarkState.RELEASED)
        ],
    }
