"""How does a verdict stand on the desk? Its pictures first, then its findings in words."""

from typing import Any

from django.urls import reverse

from contractor.api.desk import Banner, Picture, Show
from fitcheck.checks.desk import result_tables
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.margins import svg_margins
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated


def verdict_show(verdict: Verdict, *, is_own_page: bool = False) -> Show:
    """Everything that a page says about one verdict."""
    link = {} if is_own_page else {"url": _page(verdict), "link": "The verdict's page"}
    said = verdict.result["summary"]
    banners = [Banner(verdict.state, f"{verdict.sheet.key}: {said}", **link)]
    if verdict_outdated(verdict=verdict):
        text = "The opening was surveyed again, or described otherwise, since: ask for it anew."
        banners.append(Banner("unknown", text))
    return Show(banners, verdict_pictures(verdict), result_tables(verdict.result))


def inputs_of(verdict: Verdict) -> dict[str, Any]:
    """The kept inputs with the sheet's body put back where its digest stands."""
    return {**verdict.inputs, "sheet": verdict.sheet.body}


def _page(verdict: Verdict) -> str:
    return reverse("verdict-detail", args=[verdict.pk])


def verdict_pictures(verdict: Verdict) -> list[Picture]:
    """Draw the opening, the margins and the cuts; each stands at its own address too."""
    result = verdict.result
    drawn = {
        "elevation": ("The opening from the front", svg_elevation(inputs_of(verdict), result)),
        "margins": ("How near each limit is", svg_margins(result)),
        "cuts": ("Cuts on their stock", svg_cut_bars(result)),
    }
    return [
        Picture(title, svg, reverse(f"verdict-{name}", args=[verdict.pk]))
        for name, (title, svg) in drawn.items()
    ]
