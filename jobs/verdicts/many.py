"""Which verdicts count for many openings, and which of them are outdated? Asked once for all of them."""

from collections.abc import Iterable, Sequence

from django.db.models import F, OuterRef, Q, Subquery

from jobs.openings.models import Opening
from jobs.surveys.models import Survey
from jobs.verdicts.models import Verdict


def verdicts_standing(*, openings: Sequence[Opening]) -> dict[int, Verdict]:
    """Find the verdict that counts for each opening, as `verdict_standing` does for one."""
    own = Verdict.objects.filter(
        Q(sheet__kit_id=OuterRef("kit_id")) | Q(opening__kit_id=None), opening=OuterRef("pk")
    )
    newest = own.order_by("-given_at", "-pk").values("pk")[:1]
    keys = [one.pk for one in openings]
    found = Opening.objects.filter(pk__in=keys).annotate(counts=Subquery(newest)).order_by()
    wanted = [key for key in found.values_list("counts", flat=True) if key is not None]
    by_key = {one.pk: one for one in openings}
    told = {}
    for verdict in Verdict.objects.filter(pk__in=wanted).select_related("sheet__kit", "survey"):
        verdict.opening = by_key[verdict.opening_id]
        told[verdict.opening_id] = verdict
    return told


def verdicts_outdated(*, verdicts: Iterable[Verdict]) -> set[int]:
    """Name by key the openings that were surveyed again, or described otherwise, after their verdict."""
    rows = {one.opening_id: one for one in verdicts}
    newest = Survey.objects.filter(opening=OuterRef("pk")).order_by("-received_at", "-id")
    found = Opening.objects.filter(pk__in=list(rows)).annotate(
        newest=Subquery(newest.values("pk")[:1])
    )
    last = dict(found.order_by().values_list("pk", F("newest")))
    return {
        key
        for key, one in rows.items()
        if (last[key] is not None and last[key] != one.survey_id)
        or one.inputs["opening"] != one.opening.facts()
    }
