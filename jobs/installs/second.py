"""Who looked as well at a hold point, and how do we know? By their own sign-in, or a typed name.

A second person says so from their own sign-in or tablet, as a record of kind `looked` at the stop. It may
come before the record of the stop or after it; either then settles the stop. A typed name needs a reason.
"""

from dataclasses import dataclass
from typing import Any

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from jobs.installs.judge import Judged
from jobs.installs.models import Install, Kind, Record, RecordState
from jobs.installs.order import need_words
from jobs.installs.readers import OWN, TYPED, crew_of, same_name
from jobs.installs.sent import Sent

NEED = "second_person"
NONE = "none"
HOW = (OWN, TYPED, NONE)
Stop = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Second:
    """The second person at a stop: who, how that is known, and why only by name."""

    name: str = ""
    member: str = ""
    how: str = NONE
    why: str = ""

    def lacks(self, stop: Stop) -> str:
        """What is wanting of a second person, in words; empty when nothing is, or none is asked for."""
        need = need_of(stop)
        if need is None or self.how == OWN or (self.how == TYPED and self.why.strip()):
            return ""
        if self.how == NONE:
            return need_words(need)
        return (
            f"That {self.name} looked as well is only typed. They say so from their own sign-in; or say why"
            " they cannot (`typed_why`)."
        )

    def as_json(self, stop: Stop) -> dict[str, str]:
        """As it is kept with the record."""
        own = {"name": self.name, "member": self.member, "how": self.how, "why": self.why}
        return {**own, "lacks": self.lacks(stop)}


def need_of(stop: Stop) -> dict[str, Any] | None:
    """What a stop asks of a second person; None when it asks for none."""
    return next((one for one in stop["needs"] if one["kind"] == NEED), None)


def second_of(*, by: Caller, install: Install, stop: Stop, sent: Sent) -> Second:
    """Find who looked as well: another of the crew by their own sign-in, else the name that was typed."""
    for look in _looks(install, stop["key"]):
        author = look.author
        if by.member_id not in {None, author.pk} and not same_name(author.name, sent.said_by):
            return Second(author.name, author.number, OWN)
    name = str(sent.body.get("second_person", "")).strip()
    if not name or same_name(name, sent.said_by):
        return Second()
    return Second(name, "", TYPED, str(sent.body.get("typed_why", "")))


def _looks(install: Install, key: str) -> Any:
    """Looks of the crew at a stop since it was last held, the newest first."""
    own = install.records.filter(stop=key)
    held = own.filter(kind=Kind.STOP, state=RecordState.HELD).order_by("taken_at", "pk").last()
    looks = own.filter(kind=Kind.LOOKED, author_id__in=crew_of(install)).select_related("author")
    looks = looks.filter(taken_at__gt=held.taken_at) if held else looks
    return looks.order_by("-taken_at", "-pk")


def look_judge(*, by: Caller, install: Install, stop: Stop) -> Judged:
    """Say what a look does: it settles a stop that was recorded and wants nothing but a second person.

    Raises:
        Problem: nobody is signed in, they are not of this crew, or the stop asks for no second person.
    """
    _check_look(by, install, stop)
    first = stop_last(install, stop["key"])
    if first is None:
        return _noted("It counts when another of the crew records this stop.")
    if is_own(by, first):
        return _noted("You recorded this stop yourself: another of the crew looks as well.")
    if first.state != RecordState.INCOMPLETE:
        return _noted(*first.outcome["do"])
    lacks = first.outcome.get("second", {}).get("lacks", "")
    missing = [one for one in first.outcome["missing"] if one != lacks]
    if missing:
        return Judged(RecordState.NOTED, missing, do=missing)
    more = {"confirms": str(first.pk), "first": first.said_by}
    return Judged(RecordState.DONE, more=more)


def stop_last(install: Install, key: str) -> Record | None:
    """The newest record of a stop, by its own time."""
    rows = install.records.filter(kind=Kind.STOP, stop=key)
    return rows.order_by("taken_at", "pk").last()


def is_own(by: Caller, record: Record) -> bool:
    """Whether who calls recorded it themselves, by sign-in or by name."""
    return record.author_id == by.member_id or same_name(record.said_by, by.name)


def _noted(*do: str) -> Judged:
    return Judged(RecordState.NOTED, do=list(do))


def _check_look(by: Caller, install: Install, stop: Stop) -> None:
    if by.member_id is None or need_of(stop) is None:
        raise Problem(
            "not_a_look",
            "A look is put by the second person themselves, at a stop that asks for one.",
            hint="Send it from your own sign-in or tablet, at a stop such as brackets_fixed.",
            pointer="/stop",
        )
    if by.member_id not in crew_of(install):
        raise Problem(
            "not_of_crew",
            f"{by.name} is not of the crew that is there.",
            status=409,
            hint="Let another of the crew look, from their own sign-in.",
            pointer="/kind",
        )
