"""When may water touch what was hung, and who says so?"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from fitcheck.rules import sealing
from fitcheck.rules.length import mm_text
from jobs.installs.models import Install, Record
from jobs.installs.order import Fact
from jobs.installs.stops import BEAD
from jobs.stock.services import sealant_data

AIR = ("celsius", "humidity")
PRODUCT = ("title", "edition", "page", "rows")


def cure_of(
    *, install: Install, facts: Sequence[Fact], finished_at: datetime
) -> tuple[datetime | None, dict[str, Any]]:
    """Work out the earliest use in the site's time from the sheet's hours, the beads and the products.

    Counted from the last bead, in real hours across a change of the clocks. The sheet's own sealant
    in the sheet's own air counts as it does in the verdict, so that nothing is promised earlier; what
    was recorded at the bead can only make it later. Where a product's data do not speak of such air
    or depth, nothing is promised.

    Returns:
        The earliest use, None when nobody can say; and the answer with its source and words.
    """
    beads = [one for one in facts if one.stop == BEAD and one.state == "done"]
    last = max(beads, key=lambda one: one.at) if beads else None
    ended = last.at if last else finished_at
    told = _told(install, ended)
    answers = [answered(told, product) for product in products(install, _body(last))]
    cure = max(answers, key=_lasts)
    cure["last_bead_at"] = ended.isoformat()
    shower = cure.get("first_shower")
    return (datetime.fromisoformat(shower["not_before"]) if shower else None), cure


def answered(told: Mapping[str, Any], product: Mapping[str, Any] | None) -> dict[str, Any]:
    """Ask for one product; None is one whose air nobody read, of which nothing is known."""
    asked = {**told, **(product or {})}
    if product is None:
        del asked["sheet"]
    answer = sealing.answer({"cure": asked})
    cure: dict[str, Any] = dict(answer["cure"])  # type: ignore[call-overload]
    return {**cure, "cautions": answer["cautions"]}


def _lasts(cure: Mapping[str, Any]) -> Decimal:
    return Decimal("inf") if cure["state"] == "unknown" else Decimal(cure["window"]["hours"])


def _body(fact: Fact | None) -> Mapping[str, Any]:
    record = Record.objects.filter(pk=fact.key).first() if fact else None
    return record.body if record else {}


def _told(install: Install, ended: datetime) -> dict[str, Any]:
    """Say when the last bead was run, how deep the deepest is, and what the sheet says of its cure."""
    sheet = install.sheet.parsed()
    deepest = max((rule.bead.nm for rule in sheet.sealant), default=None)
    told: dict[str, Any] = {
        "finished_at": ended.isoformat(),
        "time_zone": install.booking.job.site.time_zone,
        "depth": None if deepest is None else mm_text(deepest),
        "sheet": None,
    }
    if sheet.cure is not None:
        told["sheet"] = {
            "title": sheet.document.title,
            "edition": sheet.document.edition,
            "page": sheet.cure.page,
            "hours": sheet.cure.amount,
        }
    return told


def products(install: Install, body: Mapping[str, Any]) -> list[dict[str, Any] | None]:
    """List the products with their air: the sheet's as printed, then what the bead's record says.

    Returns:
        One to ask for each; None for a product whose air nobody read.
    """
    own = install.sheet.body.get("sealant_product")
    used = sealant_data(slug=body.get("sealant", ""))
    read = {name: body[name] for name in AIR if body.get(name)}
    asked: list[dict[str, Any] | None] = []
    if own:
        asked.append(_asked(own, own))
    if used or (own and len(read) == len(AIR)):
        air = read if len(read) == len(AIR) else own
        asked.append(_asked(used or own, air) if air else None)
    return asked or [{}]


def _asked(product: Mapping[str, Any], air: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "product": {name: product[name] for name in PRODUCT if name in product},
        **{name: air[name] for name in AIR},
    }
