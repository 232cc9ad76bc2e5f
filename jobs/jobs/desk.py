"""How does a job stand on the desk? Its strip, what comes next with a button, and what belongs to it."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.urls import reverse
from django.utils.html import format_html

from contractor.api.callers import Caller
from contractor.api.desk import Banner, Picture, Press, Show, Table
from jobs.bookings.way_in import way_in_of
from jobs.installs.models import Install
from jobs.installs.told import site_time
from jobs.jobs.life import may_move
from jobs.jobs.models import Job
from jobs.jobs.onward import link_onward
from jobs.jobs.strip import svg_strip
from jobs.receiving.models import Order, OrderState
from jobs.receiving.standing import goods_standing
from jobs.verdicts.many import verdicts_standing

STATES = {"under_way": "Under way", "curing": "Finished, curing", "cured": "Dry"}
ROLES = {"office": "the office", "measurer": "the measurer", "yard": "the yard", "lead": "the lead"}


def next_words(told: Mapping[str, Any] | None) -> str:
    """Say in one sentence what comes next, who does it, and what blocks it."""
    if told is None:
        return "Nothing comes after this."
    start = f"Next: {told['title'].lower()}, by {ROLES[told['who']]}."
    if told["blocked_by"]:
        return f"{start} {' '.join(one['why'] for one in told['blocked_by'])}"
    return f"{start} Nothing blocks it."


def strip_of(job: Job, told: Mapping[str, Any] | None) -> str:
    """Draw how far the job is."""
    return svg_strip(number=job.number, state=job.state, waits=next_words(told))


def job_show(job: Job, row: Mapping[str, Any], caller: Caller) -> Show:
    """Collect what a clerk wants to see of a job before anything else."""
    told = row["next"]
    itself = reverse("job-strip", args=[job.number])
    waits = "waits" if told and told["blocked_by"] else "ready"
    banners = []
    if told:
        says, where = link_onward(job, told["action"], caller.role)
        banners.append(Banner(waits, next_words(told), where, says))
    return Show(
        banners,
        [Picture("How far it is", strip_of(job, told), itself)],
        [_moves(job, row, caller, back=False), *_tables(job), _moves(job, row, caller, back=True)],
    )


def _moves(job: Job, row: Mapping[str, Any], caller: Caller, *, back: bool) -> Table:
    path = reverse("job-move", args=[job.number])
    rows = [
        [one["title"], ROLES[one["who"]], _blocked(one), _button(one, path, row, caller)]
        for one in row["moves"]
        if one["back"] is back
    ]
    title = "Ways back" if back else "What comes next"
    heads = ("Step", "Whose it is", "What it still needs", "")
    return Table(title, heads, rows, none="No way leads on from here.")


def _blocked(step: Mapping[str, Any]) -> str:
    blocks = step["blocked_by"]
    held = [f"{one['why']} {one['hint']}" for one in blocks if one["guard"] != "reason_given"]
    if len(held) < len(blocks):
        held.append("And a reason." if held else "A reason.")
    return " ".join(held).replace("`reason`", "the box") or "Nothing"


def _button(
    step: Mapping[str, Any], path: str, row: Mapping[str, Any], caller: Caller
) -> Press | str:
    is_open = step["needs_reason"] or not step["blocked_by"]
    if not is_open or not may_move(by=caller, action=step["action"]):
        return ""
    values = {"action": step["action"], "_version": row["version"]}
    asks = "Why" if step["needs_reason"] else ""
    return Press(step["title"], path, values, says=str(row["id"]), asks=asks)


def _tables(job: Job) -> list[Table]:
    return [
        _openings(job),
        _way_in(job),
        _orders(job),
        _visits(job),
        _installs(job),
        _packets(job),
        _claims(job),
        _losses(job),
    ]


def _installs(job: Job) -> Table:
    """What is being hung, one row an opening; its page holds the stops."""
    rows = [
        (
            format_html('<a href="{}">{}</a>', _install(one), f"Install of O-{one.opening_id:04d}"),
            STATES[one.state],
            one.started_by,
            site_time(one, one.started_at),
            site_time(one, one.earliest_use) if one.earliest_use else "",
        )
        for one in Install.objects.filter(booking__job=job).select_related("booking__job__site")
    ]
    heads = ("Install", "Stands", "Started by", "Started", "Keep dry until")
    return Table("Installs", heads, rows, none="None begun.")


def _install(row: Install) -> str:
    return reverse("install-detail", args=[row.pk])


def _losses(job: Job) -> Table:
    rows = [
        [
            _to("loss", one.number),
            one.get_kind_display(),
            one.get_cause_display(),
            one.says,
            one.cost_says,
        ]
        for one in job.losses.all()
    ]
    heads = ("Loss", "What is done again", "Why", "Says", "Cost")
    return Table("What went wrong", heads, rows, none="Nothing that is known.")


def _orders(job: Job) -> Table:
    rows = [
        [_to("order", one.number), one.supplier, one.reference, _day(one.expected_on), _came(one)]
        for one in job.orders.prefetch_related("lines__inspections")
    ]
    heads = ("Order", "From", "Reference", "Expected on", "Stands")
    standing = goods_standing(job=job)
    return Table(f"Goods: {standing.why}", heads, rows, none="None ordered.")


def _came(order: Order) -> str:
    """How much of an order was looked over."""
    lines = order.lines.all()
    looked = sum(bool(one.inspections.all()) for one in lines)
    if order.state == OrderState.CANCELLED or not looked:
        return order.get_state_display()
    if looked == len(lines):
        return "All looked over"
    return f"{looked} of {len(lines)} looked over"


def _claims(job: Job) -> Table:
    rows = [
        [_to("claim", one.number), one.summary, one.get_against_display(), one.get_state_display()]
        for one in job.claims.all()
    ]
    return Table("Claims", ("Claim", "About", "Against", "Stands"), rows, none="None.")


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _openings(job: Job) -> Table:
    rows = []
    openings = list(job.openings.select_related("kit"))
    standing = verdicts_standing(openings=openings)
    for one in openings:
        verdict = standing.get(one.pk)
        state = "left out" if one.dropped_why else verdict.state if verdict else "no verdict"
        rows.append([_to("opening", one.number), one.name, one.kit or "not chosen", state])
    heads = ("Opening", "Which", "Kit", "Verdict")
    return Table("Openings", heads, rows, none="None yet: add one.")


def _way_in(job: Job) -> Table:
    told = way_in_of(job)
    rows = [
        [_to("opening", one["opening"]), one["name"], one["state"], one["says"]]
        for one in told["panels"]
    ]
    asks = " ".join(told["asks"]) or "every place that was told has its sizes."
    heads = ("Opening", "Panel", "Gets in", "Says")
    return Table(f"Way in: {asks}", heads, rows, none="No verdict names panels yet.")


def _visits(job: Job) -> Table:
    found = job.bookings.select_related("crew", "job__site").order_by("starts_at")
    rows = [
        [
            _to("booking", one.number),
            one.get_visit_display(),
            one.local(),
            one.crew,
            one.get_state_display(),
        ]
        for one in found
    ]
    return Table("Visits", ("Booking", "For", "When", "Crew", "Stands"), rows, none="None booked.")


def _packets(job: Job) -> Table:
    rows = [
        [
            _to("packet", one.number),
            one.get_state_display(),
            f"superseded by {one.superseded_by.number}" if one.superseded_by else "current",
        ]
        for one in job.packets.select_related("superseded_by")
    ]
    return Table("Packets", ("Packet", "Paper", "Age"), rows, none="None asked for.")


def _to(noun: str, number: str) -> Any:
    from contractor.api.desk_values import shown

    return shown(number, noun)
