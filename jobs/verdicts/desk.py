"""How does a verdict stand on the desk? Its pictures first, then its findings in words."""

from django.urls import reverse

from contractor.api.desk import Banner, Picture, Show
from fitcheck.checks.desk import result_tables
from jobs.verdicts.models import Verdict
from jobs.verdicts.pictures import drawings_of
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


def _page(verdict: Verdict) -> str:
    return reverse("verdict-detail", args=[verdict.pk])


def verdict_pictures(verdict: Verdict) -> list[Picture]:
    """Draw everything that a verdict shows; each drawing stands at its own address too."""
    return [
        Picture(title, drawn(), reverse("verdict-drawing", args=[verdict.pk, name]))
        for name, (title, drawn) in drawings_of(verdict).items()
    ]
