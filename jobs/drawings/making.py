"""How does a worker draw a file? From what was frozen; before a second person signed, as a draft."""

from datetime import datetime

from contractor.notices.wanted import Work
from fitcheck.drawings.write_dxf import dxf_write
from jobs.drawings.content import sheets_of
from jobs.drawings.models import Drawing, State

DRAWN = Work(
    Drawing, noun="drawing", task="drawings.draw", busy=State.DRAWING, taken={"percent": 10}
)


def drawings_waiting(*, now: datetime) -> list[int]:
    """List the keys of drawings that no living worker holds."""
    return DRAWN.waiting(now=now)


def drawing_draw(*, key: int, now: datetime | None = None) -> bool:
    """Claim one drawing and write its file; returns whether this call did. Announces `drawing.done`."""
    return DRAWN.do(key=key, now=now, by=_drawn)


def _drawn(row: Drawing) -> bool:
    drawing = Drawing.objects.select_related("opening__job__site", "verdict__sheet").get(pk=row.pk)
    return _finish(drawing, dxf_write(sheets_of(drawing, true=True)))


def _finish(drawing: Drawing, data: bytes) -> bool:
    stem = f"{drawing.number}-{'signed' if drawing.signed_by else 'draft'}.dxf"
    return DRAWN.finish_file(drawing, stem, data)
