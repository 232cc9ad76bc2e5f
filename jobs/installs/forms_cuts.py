"""How does a lead ask for a saw mark from a browser, and say how a part was sawn?"""

from typing import Any

from django.utils import timezone
from rest_framework import serializers

from contractor.api.callers import Caller
from contractor.api.fields import LengthField
from contractor.api.problems import Problem
from fitcheck.rules.sawmark_read import ENDS
from jobs.installs.forms import HarmFields, ToolFields, tool_of
from jobs.installs.models import Install, Kind
from jobs.installs.readers import newest_by_another
from jobs.installs.shapes import choice
from jobs.installs.stops import cut_key


class DeskSawnSerializer(HarmFields):
    """How long a part is as sawn."""

    part = serializers.CharField(max_length=80, help_text="As the sheet calls it: head rail.")
    sawn = LengthField(help_text="With its unit: 57 5/8 in.")
    note = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=2000,
        style={"base_template": "textarea.html", "rows": 2},
    )


class DeskMarkSerializer(ToolFields):
    """The distance for one part, as two people read it."""

    part = serializers.CharField(max_length=80, help_text="As the sheet calls it: head rail.")
    first_value = LengthField(help_text="With its unit: 59 13/16 in.")
    first_by = serializers.CharField(
        required=False, allow_blank=True, max_length=120, help_text="Empty: you."
    )
    second_value = LengthField(
        required=False,
        allow_blank=True,
        help_text="Empty: what another of the crew sent from their own sign-in.",
    )
    second_by = serializers.CharField(required=False, allow_blank=True, max_length=120)
    typed_why = serializers.CharField(required=False, allow_blank=True, max_length=300)
    new_part = serializers.BooleanField(
        required=False, help_text="The miscut one is set aside; this one is as it came in the box."
    )
    end = choice(ENDS, required=False, help_text="Which end will be sawn.")


class DeskReadSerializer(ToolFields):
    """The distance for one part, as you read it yourself."""

    part = serializers.CharField(max_length=80, help_text="As the sheet calls it: head rail.")
    value = LengthField(help_text="With its unit: 59 13/16 in.")


def sawn_body(values: dict[str, Any]) -> dict[str, Any]:
    """Write the form of a sawn part as a record of its cut."""
    return {"kind": Kind.SAWN, "stop": cut_key(values.pop("part")), **values}


def read_body(values: dict[str, Any]) -> dict[str, Any]:
    """Write the form of one's own reading as a record of its cut."""
    tool, value = tool_of(values), values.pop("value")
    told = [{"name": Kind.AS_FIXED, "value": value, "tool": tool}]
    return {"kind": Kind.AS_FIXED, "stop": cut_key(values.pop("part")), "values": told}


def mark_body(install: Install, values: dict[str, Any], caller: Caller) -> dict[str, Any]:
    """Write the form of a saw mark as a tablet would ask; the second reading may be there already.

    Raises:
        Problem: no second reading is told, and nobody has sent one.
    """
    tool, now = tool_of(values), timezone.now().isoformat()
    own = {"tool": tool, "taken_at": now}
    first = {"id": "first", "value": values.pop("first_value"), **own}
    rows = [first | {"read_by": values.pop("first_by", "") or caller.name}]
    second, name = values.pop("second_value", ""), values.pop("second_by", "")
    if second:
        rows.append({"id": "second", "value": second, "read_by": name, **own})
    else:
        rows.append({"record": _second(install, values["part"], caller)})
    return {"install": str(install.pk), "taken_at": now, "as_fixed": rows, **values}


def _second(install: Install, part: str, caller: Caller) -> str:
    found = newest_by_another(install=install, part=part, than=caller.member_id)
    if found is not None:
        return str(found.pk)
    raise Problem(
        "second_reading_missing",
        f"Nobody else has sent a reading for the {part}.",
        status=409,
        hint="Another of the crew signs in and uses “Read the distance yourself”; or fill in the second"
        " reading, who read it, and why they do not sign in.",
        pointer="/second_value",
    )
