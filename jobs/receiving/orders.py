"""How are goods ordered? With every piece that must come: read from a sheet or a verdict, or told."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from fitcheck.kits.models import RuleSheet
from fitcheck.rules.sheet import Sheet
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.receiving.models import Kind, Line, Order, OrderState, What
from jobs.receiving.standing import lines_standing, pieces_anew
from jobs.verdicts.many import verdicts_outdated, verdicts_standing
from jobs.verdicts.models import State, Verdict


@transaction.atomic
def order_place(
    *, by: Caller, job: Job, kind: str, lines: list[dict[str, Any]] | None = None, **values: Any
) -> Order:
    """Order goods for a job; writes order and lines, announces `order.placed`.

    Args:
        lines: pieces told by the caller; without them every opening's kit sheet is read, and for single
            pieces what was found amiss and is not on its way.

    Raises:
        Problem: an opening has no kit to read pieces from, or is another job's.
    """
    order = Order(job=job, kind=kind, **values)
    made = _told(order, lines) if lines else _read(order)
    if not order.supplier and made[0].sheet is not None:
        order.supplier = made[0].sheet.kit.maker
    order.save(force_insert=True)
    for one in made:
        one.order = order
    Line.objects.bulk_create(made)
    changes = {"job": [None, job.number], "lines": [0, len(made)]}
    notice_record(by=by, type="order.placed", about=order.number, changes=changes)
    job_follow(by=by, job=job, action="order")
    return order


def _told(order: Order, lines: list[dict[str, Any]]) -> list[Line]:
    made = []
    for index, told in enumerate(lines):
        remakes: Line | None = told.get("remakes")
        opening: Opening | None = told.get("opening") or (remakes.opening if remakes else None)
        if opening is None or opening.job_id != order.job_id:
            raise Problem(
                "not_of_this_job",
                f"Line {index + 1} is for no opening of {order.job.number}.",
                hint="Name an opening of the job.",
                pointer=f"/lines/{index}/opening",
            )
        if remakes is not None and remakes.opening_id != opening.pk:
            raise Problem(
                "not_of_this_job",
                f"{remakes.number} is a piece of another opening.",
                hint="Name the piece that this one makes good.",
                pointer=f"/lines/{index}/remakes",
            )
        made.append(Line(**{**told, "opening": opening}))
    return made


def _amiss(order: Order) -> list[Line]:
    """Read what was found amiss on the job and is not on its way anew."""
    every = Line.objects.filter(order__job=order.job, opening__dropped_why="")
    rows = lines_standing(lines=every.select_related("order", "opening", "sheet__kit"))
    coming = set(every.filter(remakes__isnull=False, inspections=None).values_list("pk", flat=True))
    idle = [one for one in rows if not coming & {again.pk for again in one.remade}]
    told = pieces_anew(idle)
    if not told:
        raise Problem(
            "lines_missing",
            "No pieces are named, and none is known to be amiss that is not on its way.",
            hint="Send `lines`: opening, name, count, size of each.",
            pointer="/lines",
        )
    return _told(order, told)


def _read(order: Order) -> list[Line]:
    if order.kind == Kind.PIECE:
        return _amiss(order)
    openings = list(order.job.openings.filter(dropped_why="").select_related("kit"))
    if order.kind == Kind.GLASS:
        return _made(openings)
    if not openings:
        raise Problem("no_opening", "The job has no opening.", hint="Add one.", pointer="/job")
    standing, parsed = verdicts_standing(openings=openings), {}
    made = []
    for opening in openings:
        verdict = standing.get(opening.pk)
        sheet = verdict.sheet if verdict is not None and opening.kit_id else _newest(opening)
        if sheet.pk not in parsed:
            parsed[sheet.pk] = sheet.parsed()
        made += lines_of(opening, verdict, sheet, parsed[sheet.pk])
    return made


def _made(openings: list[Opening]) -> list[Line]:
    """Read the panels that verdicts cut to their openings; glass waits for a verdict that fits.

    Raises:
        Problem: no verdict cuts glass, or one that does is outdated or does not fit.
    """
    standing = verdicts_standing(openings=openings)
    cutting = {key: one for key, one in standing.items() if one.result.get("made_glass")}
    if not cutting:
        raise _nothing_named()
    outdated = verdicts_outdated(verdicts=cutting.values())
    for key, verdict in cutting.items():
        if key in outdated or verdict.state != State.FITS:
            says = "is outdated" if key in outdated else f"says {verdict.state}"
            raise Problem(
                "verdict_not_fitting",
                f"Glass made to measure waits for a verdict that fits; that of O-{key:04d} {says}.",
                status=409,
                hint="Read what is missing and ask anew, or send the pieces in `lines`.",
                pointer="/job",
            )
    return [
        Line(
            opening=verdict.opening,
            sheet=verdict.sheet,
            what=What.PANEL,
            name=f"{panel['name']} panel",
            size=f"{panel['width']} × {panel['height']} × {panel['thickness']}, cut as drawn",
            mass=panel["mass"],
        )
        for verdict in cutting.values()
        for panel in _panels(verdict)
    ]


def _nothing_named() -> Problem:
    return Problem(
        "lines_missing",
        "No pieces are named.",
        hint="Send `lines`: opening, name, count, size of each.",
        pointer="/lines",
    )


def lines_of(
    opening: Opening, verdict: Verdict | None, sheet: RuleSheet, rules: Sheet
) -> list[Line]:
    """Read from a sheet which panels and parts must come for an opening, in its verdict's size."""
    size = verdict.result.get("size") if verdict is not None else None
    mass = {one["name"]: one.get("mass") or "" for one in _panels(verdict)}
    made = [
        Line(
            opening=opening,
            sheet=sheet,
            what=What.PANEL,
            name=f"{panel.name} panel",
            size=f"{panel.width.entered} × {panel.height.entered} × {panel.thickness.entered}",
            mass=mass.get(panel.name, ""),
        )
        for panel in rules.panels
        if not size or not panel.sizes or size in panel.sizes
    ]
    made += [
        _part(opening, sheet, cut.part, cut.count, cut.stock.entered)
        for cut in rules.cuts
        if not size or not cut.sizes or size in cut.sizes
    ]
    named = {one.name for one in made}
    places = dict.fromkeys(one.place for one in rules.fixings)
    made += [
        _part(opening, sheet, f"fittings: {place}", 1) for place in places if place not in named
    ]
    return made


def _part(opening: Opening, sheet: RuleSheet, name: str, count: int, size: str = "") -> Line:
    own = {"what": What.PART, "name": name, "count": count, "size": size}
    return Line(opening=opening, sheet=sheet, **own)


def _panels(verdict: Any) -> list[dict[str, Any]]:
    return verdict.result.get("panels", []) if verdict is not None else []


def _newest(opening: Opening) -> RuleSheet:
    sheet = opening.kit.sheets.order_by("-number").first() if opening.kit else None
    if sheet is None:
        raise Problem(
            "no_kit",
            f"{opening.number} has no kit with a sheet to read the pieces from.",
            status=409,
            hint="Choose its kit, or send the pieces in `lines`.",
            pointer="/job",
        )
    return sheet


@transaction.atomic
def order_cancel(*, by: Caller, order: Order, why: str) -> Order:
    """Expect these goods no longer; announces `order.cancelled`.

    Raises:
        Problem: it is cancelled already, or something has come of it.
    """
    if order.state == OrderState.CANCELLED or order.deliveries.exists():
        what = "is cancelled" if order.state == OrderState.CANCELLED else "has a delivery"
        raise Problem(
            "order_not_open",
            f"{order.number} {what}.",
            status=409,
            hint="Only an order of which nothing has come can be cancelled.",
        )
    values = {"state": OrderState.CANCELLED.value, "cancelled_why": why}
    return row_change(row=order, by=by, type="order.cancelled", values=values, reason=why)
