"""What do the neighbouring rooms say about a job? One small door each, so that a guard can ask."""

from dataclasses import dataclass

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
