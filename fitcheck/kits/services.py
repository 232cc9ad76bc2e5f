"""How does a kit's sheet become law here? By publishing a new version; old verdicts keep the old one."""

import hashlib
import json
from typing import Any

from django.db import transaction
from django.db.models import Max

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from fitcheck.kits.models import Kit, RuleSheet
from fitcheck.rules.sheet_agrees import sheet_to_write


@transaction.atomic
def kit_create(*, by: Caller, **values: Any) -> Kit:
    """Add a kit to the catalogue, yet without a sheet; announces `kit.added`."""
    kit = Kit.objects.create(**values)
    notice_record(by=by, type="kit.added", about=kit.slug)
    return kit


@transaction.atomic
def sheet_publish(*, by: Caller, kit: Kit, body: dict[str, Any]) -> RuleSheet:
    """Check a sheet's body and publish it as the kit's next version; announces `sheet.published`.

    Raises:
        InputErrors: the body is no rule sheet, or contradicts itself; one entry per mistake.
    """
    sheet_to_write(body)
    Kit.objects.select_for_update().get(pk=kit.pk)
    last = kit.sheets.aggregate(last=Max("number"))["last"] or 0
    sheet = RuleSheet.objects.create(
        kit=kit, number=last + 1, body=body, digest=sheet_digest(body), published_by=by.name
    )
    notice_record(by=by, type="sheet.published", about=sheet.key, version=sheet.number)
    return sheet


def sheet_digest(body: dict[str, Any]) -> str:
    """Digest a sheet's body in canonical JSON."""
    text = json.dumps(body, sort_keys=True, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def version_of(name: str) -> tuple[str, int | None]:
    """Read `slug` or `slug:2`; a version that cannot be is -1, which no sheet has."""
    slug, _, number = name.partition(":")
    if not number:
        return slug, None
    return slug, int(number) if number.isdecimal() and len(number) < 9 else -1


def sheet_find(*, name: str) -> RuleSheet:
    """Find a kit's newest sheet by `slug`, or one version by `slug:2`.

    Raises:
        Problem: no such kit, no such version, or no sheet published yet.
    """
    slug, number = version_of(name)
    sheets = RuleSheet.objects.select_related("kit").defer("body").filter(kit__slug=slug)
    if number is not None:
        sheets = sheets.filter(number=number)
    sheet = sheets.order_by("-number").first()
    if sheet is None:
        raise Problem(
            "kit_unknown",
            f"There is no kit sheet {name!r}.",
            hint="See /api/v1/kits/ for the catalogue; `slug` means its newest sheet, `slug:2` a version.",
            pointer="/kit",
        )
    return sheet
