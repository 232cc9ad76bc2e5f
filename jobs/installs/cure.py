"""When may water touch what was hung, and who says so?"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from fitcheck.rules import sealing
from jobs.installs.models import Install, Record
from jobs.installs.order import Fact
from jobs.installs.stops import BEAD
from jobs.stock.services import sealant_data
from jobs.verdicts.services import verdict_standing

AIR = ("celsius", "humidity")


def cure_of(
    *, install: Install, facts: Sequence[Fact], finished_at: datetime
) -> tuple[datetime | None, dict[str, Any]]:
    """Work out the earliest use in the site's time from the sheet's hours, the bead and the product.

    Counted from the last bead, in real hours across a change of the clocks. Where the product's
    data do not speak of such air, nothing is promised.

    Returns:
        The earliest use, None when nobody can say; and the answer with its source and words.
    """
    beads = [one for one in facts if one.stop == BEAD and one.state == "done"]
    last = max(beads, key=lambda one: one.at) if beads else None
    ended = last.at if last else finished_at
    body = _body(last)
    answer = sealing.answer({"runs": _runs(install), "cure": _cure(install, ended, body)})
    cure: dict[str, Any] = dict(answer["cure"])  # type: ignore[call-overload]
    cure["last_bead_at"] = ended.isoformat()
    cure["cautions"] = answer["cautions"]
    shower = cure.get("first_shower")
    return (datetime.fromisoformat(shower["not_before"]) if shower else None), cure


def _body(fact: Fact | None) -> Mapping[str, Any]:
    record = Record.objects.filter(pk=fact.key).first() if fact else None
    return record.body if record else {}


def _runs(install: Install) -> list[dict[str, str]]:
    verdict = verdict_standing(opening=install.opening)
    rows = verdict.result["sealant"] if verdict else []
    return [
        {"run": one["run"], "length": one["length"]["mm"], "width": one["bead"]}
        for one in rows
        if one["length"]
    ]


def _cure(install: Install, ended: datetime, body: Mapping[str, Any]) -> dict[str, Any]:
    sheet = install.sheet.parsed()
    told: dict[str, Any] = {
        "finished_at": ended.isoformat(),
        "time_zone": install.booking.job.site.time_zone,
    }
    if sheet.cure is not None:
        told["sheet"] = {
            "title": sheet.document.title,
            "edition": sheet.document.edition,
            "page": sheet.cure.page,
            "hours": sheet.cure.amount,
        }
    product = sealant_data(slug=body.get("sealant", ""))
    if product is not None and all(body.get(name) for name in AIR):
        told |= {"product": product, **{name: body[name] for name in AIR}}
    return told
