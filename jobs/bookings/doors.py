"""What do the neighbouring rooms say about a job? One small door each, so that a guard can ask."""

from dataclasses import dataclass
from datetime import datetime

from jobs.jobs.models import Job
from jobs.receiving.standing import goods_standing


@dataclass(frozen=True, slots=True)
class Goods:
    """Whether the job's goods are expected, here, and whole."""

    expected: bool = False
    received: bool = False
    damaged: tuple[str, ...] = ()
    why: str = ""


def goods_of(job: Job) -> Goods:
    """Ask how the job's goods stand."""
    standing = goods_standing(job=job)
    return Goods(standing.expected, standing.received, standing.damaged, standing.why)


def cured_at(job: Job) -> datetime | None:
    """Ask when the bead of the job's last install has cured; None when there is nothing to wait for."""
    return None
