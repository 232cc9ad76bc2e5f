"""Where does a job's page lead on to for the step that comes next? One link, for who may take the step."""

from collections.abc import Callable, Mapping
from urllib.parse import urlencode

from django.urls import reverse

from contractor.api.callers import LEAD, OFFICE
from jobs.claims.models import Claim
from jobs.installs.models import Install
from jobs.jobs.models import Job

Link = tuple[str, str]
NOWHERE: Link = ("", "")


def link_onward(job: Job, action: str, role: str) -> Link:
    """Words and address of the page on which the next step is made; empty where this page has it."""
    if role not in WHO.get(action, frozenset({OFFICE})):
        return NOWHERE
    leads = LEADS.get(action)
    return leads(job) if leads else NOWHERE


def _free(visit: str, says: str) -> Callable[[Job], Link]:
    def lead(job: Job) -> Link:
        asked = urlencode({"job": job.number, "visit": visit})
        return says, f"{reverse('free-time-list')}?{asked}"

    return lead


def _order(job: Job) -> Link:
    return "Place the order", f"{reverse('order-list')}?{urlencode({'job': job.number})}#add"


def _goods(job: Job) -> Link:
    """What is amiss is ordered anew from its claim; what has not come is looked over on its order."""
    claim = Claim.objects.filter(job=job, settled_at=None, remake=None, delivery__isnull=False)
    first = claim.order_by("pk").first()
    if first is not None:
        return "To its claim, to order anew", reverse("claim-detail", args=[first.number])
    order = job.orders.order_by("pk").last()
    return ("To its order", reverse("order-detail", args=[order.number])) if order else NOWHERE


def _opening(job: Job) -> Link:
    opening = job.openings.filter(dropped_why="", kit=None).order_by("pk").first()
    if opening is None:
        return NOWHERE
    return "Choose its kit", reverse("opening-detail", args=[opening.number])


def _install(job: Job) -> Link:
    install = Install.objects.filter(booking__job=job).order_by("received_at").last()
    if install is None:
        return NOWHERE
    return "To the install", reverse("install-detail", args=[install.pk])


def _claim(job: Job) -> Link:
    claim = Claim.objects.filter(job=job, settled_at=None).order_by("pk").first()
    return ("To its claim", reverse("claim-detail", args=[claim.number])) if claim else NOWHERE


LEADS: Mapping[str, Callable[[Job], Link]] = {
    "survey": _free("survey", "Find time for the survey"),
    "decide": _opening,
    "order": _order,
    "receive": _goods,
    "book": _free("install", "Find time for the install"),
    "install": _install,
    "hand_over": _install,
    "follow_up": _free("follow_up", "Find time for a follow-up"),
    "close": _claim,
}
WHO = {"install": frozenset({OFFICE, LEAD}), "hand_over": frozenset({OFFICE, LEAD})}
