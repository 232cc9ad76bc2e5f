"""What do the neighbouring rooms say about a job? One small door each, so that a guard can ask."""

from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from contractor.api.callers import Caller
from jobs.installs.services import install_standing
from jobs.jobs.models import Job


@dataclass(frozen=True, slots=True)
class Goods:
    """Whether the job's goods are expected, here, and whole."""

    expected: bool = False
    received: bool = False
    damaged: tuple[str, ...] = ()
    why: str = ""


@cache
def _room(name: str) -> Any:
    """Find a room that may not be built yet; asked for late, for such a room asks this one too."""
    parent = name.rpartition(".")[0]
    found = find_spec(parent) is not None and find_spec(name) is not None
    return import_module(name) if found else None


def goods_of(job: Job) -> Goods:
    """Ask how the job's goods stand; a firm without receiving expects nothing."""
    room = _room("jobs.receiving.services")
    if not hasattr(room, "goods_standing"):
        return Goods()
    told = room.goods_standing(job=job)
    return Goods(told.expected, told.received, told.damaged, told.why)


def cured_at(job: Job) -> datetime | None:
    """Ask when the bead of the job's installs has cured; None when there is nothing to wait for."""
    return install_standing(job=job).cured_at


def job_follows(*, by: Caller, job: Job, action: str) -> None:
    """Let the job follow `book` or `unbook` of an install as far as its guards allow."""
    room = _room("jobs.jobs.life")
    if room is not None:
        room.job_follow(by=by, job=job, action=action)
