"""Which kits of the whole catalogue fit? Every newest sheet, compiled once for as long as it stands."""

from functools import lru_cache
from typing import Any

from django.db.models import F, Max

from contractor.api.problems import Problem
from fitcheck.kits.models import RuleSheet
from fitcheck.rules.sheet_parse import sheet_parse

Keys = tuple[tuple[int, str, str], ...]


def kits_answer(inputs: dict[str, Any]) -> dict[str, Any]:
    """Answer which kits fit: of the sheets sent, else of the catalogue's newest sheets.

    Args:
        inputs: the question as sent; a kit of the catalogue may be named with or without version.

    Raises:
        InputErrors: the inputs are malformed.
        Problem: the catalogue is empty.
    """
    from fitcheck.rules import which_kits

    if "kits" in inputs:
        return which_kits.answer(inputs)
    keys = newest_sheets()
    if not keys:
        raise Problem(
            "catalogue_empty",
            "No kit of the catalogue has a sheet yet.",
            hint="Send sheets of your own as `kits`, or publish one at /api/v1/sheets/.",
            pointer="/kits",
        )
    names = {slug: name for _, _, name in keys for slug in [name.partition(":")[0]]}
    wanted = inputs.get("reasons_for")
    if isinstance(wanted, list):
        inputs["reasons_for"] = [
            names.get(one, one) if isinstance(one, str) else one for one in wanted
        ]
    return which_kits.answer(inputs, _compiled(keys))


def newest_sheets() -> Keys:
    """Key, digest and name of each kit's newest sheet, in the order of the kits."""
    newest = RuleSheet.objects.annotate(last=Max("kit__sheets__number")).filter(number=F("last"))
    rows = newest.order_by("kit_id").values_list("pk", "digest", "kit__slug", "number")
    return tuple((pk, digest, f"{slug}:{number}") for pk, digest, slug, number in rows)


@lru_cache(maxsize=2)
def _compiled(keys: Keys) -> Any:
    """Compile the catalogue; published sheets never change, so their digests stand for them."""
    from fitcheck.rules.catalogue import catalogue_compile

    bodies = dict(
        RuleSheet.objects.filter(pk__in=[pk for pk, _, _ in keys]).values_list("pk", "body")
    )
    return catalogue_compile([(name, sheet_parse(bodies[pk])) for pk, _, name in keys])
