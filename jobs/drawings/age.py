"""Is a drawing that somebody holds still the one to cut from?"""

from fitcheck.drawings.made import made_order
from jobs.drawings.models import Drawing, What
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing


def drawing_stale(*, drawing: Drawing) -> str:
    """Say why a drawing is not to be used any more; empty while it is."""
    if drawing.superseded_by is not None:
        return f"{drawing.superseded_by.number} was asked for since"
    verdict = drawing.verdict
    if verdict is None:
        standing = verdict_standing(opening=drawing.opening)
        return "" if standing is None else "the opening was surveyed since"
    if verdict_outdated(verdict=verdict):
        return "the opening was surveyed again, or described otherwise, since"
    if drawing.what == What.ELEVATION or verdict_drawn(drawing):
        standing = verdict_standing(opening=drawing.opening)
        if standing is not None and standing.pk != verdict.pk:
            return "the opening has another verdict by now"
    return ""


def verdict_drawn(drawing: Drawing) -> Verdict | None:
    """Find the verdict whose own glass is drawn; None for an order that somebody sent."""
    verdict = drawing.verdict
    if verdict is None or not drawing.order or drawing.order != made_order(verdict.result):
        return None
    return verdict
