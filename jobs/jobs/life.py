"""How does a job move through its life? By an action that every guard lets pass, or by what the rows say."""

from dataclasses import dataclass
from typing import Any

from django.db import transaction

from contractor.api.callers import SYSTEM, Caller
from contractor.api.problems import Problem
from contractor.notices.services import row_change
from jobs.claims.warranty import warranties_follow
from jobs.jobs.guards import Block
from jobs.jobs.look import Look
from jobs.jobs.models import Job, State
from jobs.jobs.moments import day_at
from jobs.jobs.moves import ACTIONS, FORWARD, MOVES, WHO, actions_from, forward_from
from jobs.losses.saves import saves_take_back

AGAINST = "decide_anyway"


@dataclass(frozen=True, slots=True)
class Step:
    """One move that a job could make: whose it is, where it leads, and what blocks it."""

    action: str
    to: str
    blocks: tuple[Block, ...]
    needs_reason: bool = False

    @property
    def is_open(self) -> bool:
        """Whether nothing blocks it, or only that nobody has said why."""
        return self.needs_reason or not self.blocks

    def as_json(self) -> dict[str, Any]:
        """As it stands in answers."""
        told = ACTIONS[self.action]
        return {
            "action": self.action,
            "title": told.title,
            "says": told.says,
            "to": self.to,
            "who": told.who,
            "by_itself": told.follows,
            "back": told.back,
            "needs_reason": self.needs_reason,
            "blocked_by": [one.as_json() for one in self.blocks],
        }


def blocks_of(look: Look, action: str) -> tuple[Block, ...]:
    """Ask every guard of an action; an empty answer lets it pass."""
    guards = MOVES[State(look.job.state), action].guards
    return tuple(block for guard in guards if (block := guard(look)) is not None)


def job_steps(*, job: Job, by: Caller = SYSTEM) -> list[Step]:
    """List every move that the job has from here, forward ones first."""
    look = Look(job, by)
    return [_step(look, action) for action in actions_from(job.state)]


def _step(look: Look, action: str) -> Step:
    blocks = blocks_of(look, action)
    look.reason = "some reason"
    needs_reason = bool(blocks) and not blocks_of(look, action)
    look.reason = ""
    return Step(action, MOVES[State(look.job.state), action].to.value, blocks, needs_reason)


@transaction.atomic
def job_move(*, by: Caller, job: Job, action: str, reason: str = "") -> Job:
    """Move a job by a named action; writes it and announces `job.moved`.

    After it the job goes on by every move that needs nobody's decision, as far as its guards allow.

    Raises:
        Problem: `no_such_move` from this state, or `not_yet` with the guards that hold it.
    """
    job = _locked(job)
    if (job.state, action) not in MOVES:
        may = actions_from(job.state)
        raise Problem(
            "no_such_move",
            f"{job.number} is {job.state}; `{action}` does not lead on from there.",
            status=409,
            hint=f"From here: {', '.join(may)}." if may else "",
            pointer="/action",
            state=job.state,
            actions=may,
        )
    blocks = blocks_of(Look(job, by, reason), action)
    if blocks:
        raise Problem(
            "not_yet",
            " ".join(one.why for one in blocks),
            status=409,
            hint=" ".join(one.hint for one in blocks),
            pointer="/action",
            blocked_by=[one.as_json() for one in blocks],
        )
    _moved(by, job, action, reason)
    if action == AGAINST:
        saves_take_back(by=by, job=job, guards=["verdicts_fit"], reason=reason)
    if not ACTIONS[action].back:
        _advance(by, job)
    return job


@transaction.atomic
def job_follow(*, by: Caller, job: Job, action: str) -> Job:
    """Let a job follow what was just recorded, as far as its guards allow; else nothing happens.

    After the action itself the job goes on by every move that needs nobody's decision. Announces
    `job.moved` for each.
    """
    job = _locked(job)
    if not _tried(by, job, action):
        _advance(by, job)
        _tried(by, job, action)
    _advance(by, job)
    return job


def _tried(by: Caller, job: Job, action: str) -> bool:
    if (job.state, action) not in MOVES or blocks_of(Look(job, by), action):
        return False
    _moved(by, job, action, "")
    return True


def _advance(by: Caller, job: Job) -> None:
    for _ in FORWARD:
        action = forward_from(job.state)
        if action is None or not ACTIONS[action].follows or not _tried(by, job, action):
            return


def _locked(job: Job) -> Job:
    return Job.objects.select_for_update(of=("self",)).select_related("site").get(pk=job.pk)


def _moved(by: Caller, job: Job, action: str, reason: str) -> Job:
    look = Look(job, by, reason)
    values: dict[str, Any] = {"state": MOVES[State(job.state), action].to.value}
    if action == "survey_again":
        values["survey_again_at"] = look.now
    row_change(row=job, by=by, type="job.moved", values=values, reason=reason)
    if job.state == State.INSTALLED:
        finished = look.install.finished_at or look.now
        day = day_at(finished, job.site.time_zone)
        warranties_follow(by=by, openings=look.openings, installed_on=day)
    return job


def may_move(*, by: Caller, action: str) -> bool:
    """Tell whether this kind of caller may do this move by hand."""
    return action in ACTIONS and by.role in WHO[ACTIONS[action].who]
