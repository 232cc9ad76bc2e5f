"""What does a fact of an install say, and whose install is it? Read from the body that was put."""

from collections.abc import Callable, Mapping
from typing import Any, cast
from uuid import UUID

from django.utils import timezone
from rest_framework.request import Request

from contractor.api import facts_put
from contractor.api.callers import Caller
from contractor.api.facts import digest_of
from contractor.api.fields import MomentField
from contractor.api.problems import FieldProblem, Problem
from jobs.installs.models import Install
from jobs.installs.sent import Sent
from jobs.installs.services import install_find
from jobs.surveys.aside import keep_aside


def own_install(caller: Caller, key: Any) -> Install:
    """Find the install that a fact belongs to; another crew's is as if it were not there.

    Raises:
        Problem: there is none that this caller may see.
    """
    install = install_find(key=key)
    if install is None or not _is_own(caller, install):
        text, hint = (
            f"There is no install {key}.",
            "Start it first, or send the id it was started by.",
        )
        raise Problem("does_not_exist", text, hint=hint, pointer="/install")
    return install


def _is_own(caller: Caller, install: Install) -> bool:
    if not caller.sees_own_crews_only:
        return True
    places = install.booking.crew.places
    return places.filter(member_id=caller.member_id or 0).exists()


def person_of(caller: Caller, request: Request, values: Mapping[str, Any]) -> str:
    """Who says so: whom the body names, else the member who is logged in or holds the tablet."""
    return str(values.get("said_by") or getattr(request.user, "name", "") or caller.name)


def plain_body(values: Mapping[str, Any], **instead: Any) -> dict[str, Any]:
    """Write a checked body as JSON keeps it."""
    told: dict[str, Any] = {}
    for name, value in {**values, **instead}.items():
        if name in {"install", "kind", "stop", "taken_at", "said_by", "booking", "opening"}:
            continue
        told[name] = sorted(value) if isinstance(value, set) else _plain(value)
    return told


def _plain(value: Any) -> Any:
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, Mapping):
        return {name: _plain(one) for name, one in value.items()}
    return value if isinstance(value, str | int | bool | None) else str(value)


def sent_of(
    request: Request, caller: Caller, key: UUID, values: Mapping[str, Any], **more: Any
) -> Sent:
    """Make the fact of a checked body; the digest is that of what was really sent."""
    body = more.pop("body", None) or plain_body(values)
    return Sent(
        id=key,
        said_by=person_of(caller, request, values),
        taken_at=values.get("taken_at") or values.get("started_at") or timezone.now(),
        body=body,
        digest=digest_of(dict(cast("dict[str, Any]", request.data))),
        **more,
    )


def put(
    caller: Caller, key: UUID, raw: Mapping[str, Any], about: str, work: Callable[[], Any]
) -> Any:
    """Do the work of one fact; a body that is refused because its id is taken is kept aside."""
    body = {"id": str(key), **raw}
    return facts_put.put(
        work, aside=lambda: keep_aside(by=caller, type="install.refused", about=about, raw=body)
    )


def rows_filled(rows: Any, said_by: str, taken_at: Any, names: tuple[str, ...]) -> Any:
    """Fill in who and when where a reading does not say; what is no list is left to the rules."""
    if not isinstance(rows, list):
        return rows
    moment = MomentField().to_representation(taken_at)
    usual = {"read_by": said_by, "taken_at": moment}
    return [
        {"id": f"r{index}", **{k: usual[k] for k in names}, **one} if isinstance(one, dict) else one
        for index, one in enumerate(rows, start=1)
    ]


def absent(name: str, text: str) -> dict[str, Any]:
    """The refusal of a row that is not there, as a field tells it."""
    return {name: FieldProblem("does_not_exist", text, "Send one that exists.").detail}
