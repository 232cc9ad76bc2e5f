"""How does a fact get in over HTTP? Under the id that its sender made, once, whoever sends it again."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from rest_framework.response import Response
from uuid_utils.compat import uuid7

from contractor.api.facts import TAKEN
from contractor.api.inputs import inputs_checked
from contractor.api.problems import Problem

BY_THE_ADDRESS = "Make a UUIDv7 (RFC 9562) for each new fact, and put it under that."


def key_of(text: str) -> UUID:
    """Read the id out of an address.

    Raises:
        Problem: it is no UUID.
    """
    try:
        return UUID(text)
    except ValueError:
        raise Problem(
            "not_a_uuid", f"{text!r} is no UUID.", hint=BY_THE_ADDRESS, pointer="/id"
        ) from None


def uuid_read(text: str) -> UUID:
    """Read a filter's id.

    Raises:
        ValueError: it is none; its text says what to send.
    """
    try:
        return UUID(text)
    except ValueError:
        raise ValueError("the UUID that was given out as id") from None


def new_key() -> UUID:
    """Make an id for a fact that comes from a browser's form."""
    return UUID(str(uuid7()))


def object_of(data: Any) -> dict[str, Any]:
    """Take a body that is one JSON object.

    Raises:
        Problem: it is something else.
    """
    if isinstance(data, dict) and not hasattr(data, "getlist"):
        return data
    raise Problem("not_an_object", "A fact is one JSON object.", hint="See the schema's example.")


def put(work: Callable[[], Any], *, aside: Callable[[], Any]) -> Any:
    """Do the work of one fact; a body that is refused because its id is taken is kept `aside`."""
    try:
        with inputs_checked():
            return work()
    except Problem as refused:
        if refused.code == TAKEN:
            aside()
        raise


def answered(data: dict[str, Any], *, is_new: bool) -> Response:
    """201 with the address for a new fact, 200 for one that was here."""
    return Response(data, 201 if is_new else 200, headers={"Location": data["url"]})
