"""How does a verdict stand on the desk? Its pictures first, then its findings in words."""

from collections.abc import Sequence

from django.urls import reverse

from contractor.api.desk import Banner, Picture, Show
from fitcheck.check import SAY_MORE
from fitcheck.checks.desk import result_tables
from fitcheck.checks.desk_depth import depth_tables
from jobs.verdicts.depths import verdict_depth
from jobs.verdicts.models import Verdict
from jobs.verdicts.pictures import NAMES, drawings_of
from jobs.verdicts.services import verdict_outdated

BRIEF = ("elevation", "margins", "cuts")  # on the page of a survey or an opening


def verdict_show(verdict: Verdict, *, is_own_page: bool = False) -> Show:
    """Everything that a page says about one verdict."""
    link = {} if is_own_page else {"url": _page(verdict), "link": "The verdict's page"}
    said = verdict.result["summary"]
    banners = [Banner(verdict.state, f"{verdict.sheet.key}: {said}", **link)]
    if verdict_outdated(verdict=verdict):
        text = "The opening was surveyed again, or described otherwise, since: ask for it anew."
        banners.append(Banner("unknown", text))
    pictures = verdict_pictures(verdict, NAMES if is_own_page else BRIEF)
    tables = result_tables(verdict.result)
    if is_own_page and verdict.rules_version in SAY_MORE:
        tables += depth_tables(verdict_depth(verdict=verdict))
    return Show(banners, pictures, tables)


def _page(verdict: Verdict) -> str:
    return reverse("verdict-detail", args=[verdict.pk])


def verdict_pictures(verdict: Verdict, names: Sequence[str] = NAMES) -> list[Picture]:
    """Draw what a page shows of a verdict; each drawing stands at its own address too."""
    return [
        Picture(title, drawn(), reverse("verdict-drawing", args=[verdict.pk, name]))
        for name, (title, drawn) in drawings_of(verdict).items()
        if name in names
    ]
