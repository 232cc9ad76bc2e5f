"""How does a lead record a stop from a browser? Forms that ask only what the next stop asks."""

import hashlib
from collections.abc import Callable
from typing import Any

from django.utils import timezone
from rest_framework import serializers

from contractor.api.callers import Caller
from contractor.api.fields import LengthField
from contractor.api.problems import FieldProblem, Problem
from contractor.api.strict import StrictSerializer
from fitcheck.rules import survey as words
from jobs.claims.models import Against
from jobs.handovers.signatures import signature_keep
from jobs.installs.models import Install, Kind
from jobs.installs.order import Standing, first_open
from jobs.installs.second import is_own, stop_last
from jobs.installs.services import said_open, stop_named
from jobs.installs.shapes import choice
from jobs.installs.stand import still_open, walked_of
from jobs.installs.stops import LEAK_RESULTS
from jobs.losses.models import Cause
from jobs.losses.models import Kind as Again
from jobs.surveys.photos import photo_of_form

NEXT = "Leave empty for the next stop; else its key as in the list above."


def _piece() -> serializers.CharField:
    return serializers.CharField(required=False, allow_blank=True, max_length=120)


class ToolFields(StrictSerializer):
    """The tool that lengths were read with."""

    tool = choice(words.TOOLS, required=False, help_text="With what it was read.")
    accuracy_class = choice(words.ACCURACY_CLASSES, required=False)
    graduation = LengthField(
        required=False, allow_blank=True, help_text="Smallest mark of the tool: 1/16 in, 1 mm."
    )

    def get_fields(self) -> Any:
        """Ask for the tool last."""
        fields = super().get_fields()
        for name in ("tool", "accuracy_class", "graduation"):
            fields[name] = fields.pop(name)
        return fields


class DeskStopSerializer(ToolFields):
    """What was found at a stop."""

    stop = serializers.CharField(required=False, allow_blank=True, help_text=NEXT)
    all_right = serializers.BooleanField(
        required=False, help_text="Everything that this stop asks was looked at and is so."
    )
    second_person = serializers.CharField(
        required=False, allow_blank=True, max_length=120, help_text="Who looked as well."
    )
    typed_why = serializers.CharField(required=False, allow_blank=True, max_length=300)
    lengths = serializers.CharField(
        required=False,
        allow_blank=True,
        help_text="One a line with its unit, in the order in which the stop asks for them.",
        style={"base_template": "textarea.html", "rows": 3},
    )
    result = choice(LEAK_RESULTS, required=False, help_text="For the leak check.")
    found = choice(("right", "not_right"), required=False)
    piece = _piece()
    cause = serializers.ChoiceField(choices=Cause.choices, required=False)
    owed_by = serializers.ChoiceField(choices=Against.choices, required=False)
    photo = serializers.FileField(required=False, allow_empty_file=True)
    note = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=2000,
        style={"base_template": "textarea.html", "rows": 2},
    )


class DeskSkipSerializer(StrictSerializer):
    """Why a stop may be passed."""

    stop = serializers.CharField(required=False, allow_blank=True, help_text=NEXT)
    reason = serializers.CharField(max_length=300)


class HarmFields(StrictSerializer):
    """Why something must be done again, and who is to make it good."""

    cause = serializers.ChoiceField(choices=Cause.choices, required=False)
    again = serializers.ChoiceField(choices=Again.choices, required=False)
    owed_by = serializers.ChoiceField(choices=Against.choices, required=False)
    photo = serializers.FileField(required=False, allow_empty_file=True)


class DeskSnagSerializer(HarmFields):
    """What is left to be put right, or was damaged."""

    note = serializers.CharField(
        max_length=2000, style={"base_template": "textarea.html", "rows": 2}
    )
    piece = _piece()

    def get_fields(self) -> Any:
        """Ask first what it is."""
        fields = super().get_fields()
        return {name: fields.pop(name) for name in ("note", "piece")} | fields


class EmptySerializer(StrictSerializer):
    """Nothing to say beside the deed itself."""


class DeskHandoverSerializer(StrictSerializer):
    """Who took the work over, and what they were told."""

    person = serializers.CharField(max_length=120, help_text="The person by name.")
    person_is = serializers.CharField(
        required=False, allow_blank=True, max_length=60, help_text="Owner, tenant, caretaker."
    )
    label_shown = serializers.BooleanField(
        required=False, help_text="The label on the glass was shown."
    )
    care_sheet_given = serializers.BooleanField(required=False)
    tempered_told = serializers.BooleanField(
        required=False, help_text="That tempered glass can break without warning was told."
    )
    use_told = serializers.BooleanField(
        required=False, help_text="From when it may be used was told."
    )
    signature = serializers.FileField(
        required=False, allow_empty_file=True, help_text="A PNG or an SVG of strokes."
    )
    unsigned_why = serializers.CharField(
        required=False, allow_blank=True, max_length=300, help_text="If nobody signs: why."
    )
    follow_up_on = serializers.DateField(required=False, allow_null=True)
    notes = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=4000,
        style={"base_template": "textarea.html", "rows": 2},
    )


class DeskLookSerializer(StrictSerializer):
    """That you looked as well, as the second person at a stop."""

    stop = serializers.CharField(required=False, allow_blank=True, help_text=NEXT)
    note = serializers.CharField(
        required=False,
        allow_blank=True,
        max_length=2000,
        style={"base_template": "textarea.html", "rows": 2},
    )


def form_body(
    install: Install,
    values: dict[str, Any],
    body_of: Callable[[dict[str, Any]], dict[str, Any]],
    caller: Caller,
) -> dict[str, Any]:
    """Write what a form says as a tablet would send it; a photo is kept first."""
    photo = values.pop("photo", None)
    body = body_of(values)
    if photo:
        body["photos"] = [photo_of_form(by=caller, upload=photo)]
    body |= {"install": str(install.pk), "taken_at": timezone.now().isoformat()}
    return {name: value for name, value in body.items() if value not in ("", None)}


def stop_body(install: Install, values: dict[str, Any]) -> dict[str, Any]:
    """Write the form of a stop as a record.

    Raises:
        Problem: another stop comes first; it says which and what would settle it.
    """
    if not any(value for name, value in values.items() if name != "stop"):
        hint = "Say that all of it is so, or fill in what was found."
        raise Problem(
            "nothing_sent", "This form says nothing yet.", hint=hint, pointer="/all_right"
        )
    walked = walked_of(install)
    key = values.pop("stop", "") or _next(walked)
    stop = stop_named(install, key)
    _check_turn(walked, key)
    _check_form(stop)
    body: dict[str, Any] = {"kind": Kind.STOP, "stop": key}
    if values.pop("all_right", False):
        body["yes"] = [one["name"] for one in stop["needs"] if one["kind"] == "yes"]
    body |= _lengths(stop, values)
    return body | values


def _check_form(stop: dict[str, Any]) -> None:
    """Lead to the form that settles a stop, where this one does not."""
    kinds = {one["kind"] for one in stop["needs"]}
    for kind, form in (("mark", "Ask for a saw mark"), ("handover", "Hand over")):
        if kind in kinds:
            text = f"{stop['title']} is not settled by a record."
            hint = f"Use the form “{form}” further down."
            raise Problem("other_form", text, status=409, hint=hint, pointer="/stop")


def look_body(install: Install, values: dict[str, Any], caller: Caller) -> dict[str, Any]:
    """Write the form of a second person's look as a record.

    Raises:
        Problem: who signed in recorded the stop themselves, or another stop comes first.
    """
    walked = walked_of(install)
    key = values.pop("stop", "") or _next(walked)
    _check_turn(walked, key)
    first = stop_last(install, stop_named(install, key)["key"])
    if first is not None and is_own(caller, first):
        raise Problem(
            "same_person",
            "You recorded this stop yourself.",
            status=409,
            hint="Another of the crew signs in and says that they looked as well.",
            pointer="/stop",
        )
    return {"kind": Kind.LOOKED, "stop": key, **values}


def skip_body(install: Install, values: dict[str, Any]) -> dict[str, Any]:
    """Write the form of a skip as a record.

    Raises:
        Problem: another stop comes first.
    """
    walked = walked_of(install)
    key = values.pop("stop", "") or _next(walked)
    _check_turn(walked, key)
    return {"kind": Kind.SKIP, "stop": key, **values}


def handover_body(install: Install, values: dict[str, Any], caller: Caller) -> dict[str, Any]:
    """Write the form of a handover as a tablet would send it; a signature is kept first."""
    image = values.pop("signature", None)
    body = {"install": str(install.pk), "taken_at": timezone.now().isoformat(), **values}
    for name in ("label_shown", "care_sheet_given", "tempered_told"):
        body.setdefault(name, False)
    if image:
        digest = hashlib.sha256(image.read()).hexdigest()
        image.seek(0)
        body["signature"] = signature_keep(by=caller, digest=digest, stream=image)[0].digest
    return {name: value for name, value in body.items() if value not in ("", None)}


def check_nothing_open(install: Install) -> None:
    """Refuse to call an install finished while a stop is open.

    Raises:
        Problem: naming the first that is, and what would settle it.
    """
    wanting = still_open(walked_of(install))
    if wanting is not None:
        raise _too_early(wanting)


def _next(walked: list[Standing]) -> str:
    wanting = first_open(walked)
    return str(wanting.stop["key"] if wanting else walked[-1].stop["key"])


def _check_turn(walked: list[Standing], key: str) -> None:
    wanting = first_open(walked, until=key)
    if wanting is not None:
        raise _too_early(wanting)


def _too_early(wanting: Standing) -> Problem:
    return Problem(
        "stop_out_of_order",
        f"{wanting.stop['title']} comes first.",
        status=409,
        hint=" ".join(said_open(wanting)),
        pointer="/stop",
        first=wanting.stop["key"],
        wants=wanting.wants,
    )


def tool_of(values: dict[str, Any]) -> dict[str, Any]:
    """Take the tool out of a form's values, a tape where it is not said."""
    kind = values.pop("tool", "") or "tape"
    return {
        "kind": kind,
        "accuracy_class": values.pop("accuracy_class", "") or "none",
        "graduation": values.pop("graduation", "") or "1/16 in",
    }


def _lengths(stop: dict[str, Any], values: dict[str, Any]) -> dict[str, Any]:
    """Share the lines of lengths out to what the stop asks for, in its order."""
    lines = [one.strip() for one in values.pop("lengths", "").splitlines() if one.strip()]
    tool = tool_of(values)
    needs = [one for one in stop["needs"] if one["kind"] in {"reading", "value"}]
    if len(lines) > len(needs):
        text = f"{stop['title']} asks for {len(needs)} lengths, not for {len(lines)}."
        hint = "One a line, in the order in which the stop asks for them."
        raise serializers.ValidationError({"lengths": FieldProblem("too_many", text, hint).detail})
    told: dict[str, Any] = {"readings": [], "values": []}
    for need, value in zip(needs, lines, strict=False):
        own = {"value": value, "tool": tool}
        if need["kind"] == "value":
            told["values"].append({"name": need["name"], **own})
        else:
            place = {name: need[name] for name in ("quantity", "side", "height")}
            told["readings"].append({**place, **own})
    return {name: rows for name, rows in told.items() if rows}
