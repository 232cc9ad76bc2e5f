"""What may a survey's body hold? Read once, with every mistake at its pointer, straight to rows."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.utils.dateparse import parse_datetime

from contractor.api.facts import digest_of
from contractor.api.moments import of_our_age
from fitcheck.rules.length import LengthError, length_parse
from fitcheck.rules.plausible import implausible_readings
from fitcheck.rules.strict import LONGEST_TEXT, InputError, InputErrors, Strict
from fitcheck.rules.survey import Survey, survey_read

MEMBERS = (
    "id",
    "opening",
    "kit",
    "size",
    "taken_at",
    "measured_by",
    "app",
    "supersedes",
    "readings",
    "zones",
    "obstructions",
    "photos",
    "notes",
)
OWN_OF_READING = ("replaces", "note", "confirmed", "value_exact")
OWN_OF_ZONE = ("replaces",)
OBSTRUCTION = ("what", "surface", "from_edge", "from_height", "width", "height", "depth")
DIGEST = re.compile(r"[0-9a-f]{64}")
LONGEST_NOTE, LONGEST_NAME, LONGEST_APP = 500, 120, 60


@dataclass(frozen=True, slots=True)
class SurveyBody:
    """A survey as it was sent, every member checked but not yet held against the database."""

    id: UUID
    opening: str
    kit: str | None
    size: str | None
    taken_at: datetime
    measured_by: str | None
    app: str
    supersedes: UUID | None
    readings: list[dict[str, Any]]
    zones: list[dict[str, Any]]
    read: Survey
    obstructions: list[Any]
    photos: list[str]
    notes: str
    digest: str


def body_read(data: Mapping[str, Any], reader: str) -> SurveyBody:
    """Read a body; `reader` stands for a reading that does not say who read it.

    Raises:
        InputErrors: every mistake found, each with pointer, code and hint.
    """
    errors: list[InputError] = []
    own = Strict.open(data, MEMBERS, "", errors)
    readings = [_whole(one, reader, data) for one in own.items("readings")]
    zones = [_named(one) for one in own.items("zones")]
    survey = _rows(readings, zones, errors)
    body = SurveyBody(
        id=uuid_of(own, "id") or UUID(int=0),
        opening=own.text("opening"),
        kit=own.text("kit") if own.has("kit") else None,
        size=own.text("size") if own.has("size") else None,
        taken_at=_moment(own),
        measured_by=own.text("measured_by") if own.has("measured_by") else None,
        app=_short(own, "app", LONGEST_APP) if own.has("app") else "-",
        supersedes=uuid_of(own, "supersedes") if own.has("supersedes") else None,
        readings=[one for one in readings if isinstance(one, dict)],
        zones=[one for one in zones if isinstance(one, dict)],
        read=survey,
        obstructions=_obstructions(own),
        photos=_photos(own),
        notes=_short(own, "notes", LONGEST_TEXT) if own.has("notes") else "",
        digest=digest_of(data),
    )
    if not readings and not zones and not body.photos:
        own.refuse("readings", "nothing_sent", "This survey holds no reading, zone or photo.")
    if errors:  # the rules and this room may both miss the same member; it is told once
        raise InputErrors(list({(one.pointer, one.code): one for one in errors}.values()))
    return body


def _whole(reading: Any, reader: str, data: Mapping[str, Any]) -> Any:
    """Fill in who and when from the survey where a reading does not say."""
    if not isinstance(reading, dict):
        return reading
    own = {"read_by": reader, "taken_at": data.get("taken_at")}
    return own | {name: value for name, value in _named(reading).items() if value is not None}


def _named(row: Any) -> Any:
    """Write a row's UUIDs one way, so that capital letters make no other row of it."""
    if not isinstance(row, dict):
        return row
    named = row | ({"id": _canonical(row["id"])} if "id" in row else {})
    if isinstance(row.get("replaces"), list):
        named["replaces"] = [_canonical(one) for one in row["replaces"]]
    return named


def _canonical(value: Any) -> Any:
    try:
        return str(UUID(value)) if isinstance(value, str) and len(value) == 36 else value
    except ValueError:
        return value


def _rows(readings: list[Any], zones: list[Any], errors: list[InputError]) -> Survey:
    """Let the rules read the rows, each without the members that are not theirs."""
    found: list[InputError] = []
    plain = {
        "opening": {"enclosure": "alcove", "stands_on": "curb"},
        "readings": [
            _own_members(one, f"/readings/{i}", OWN_OF_READING, errors)
            for i, one in enumerate(readings)
        ],
        "zones": [
            _own_members(one, f"/zones/{i}", OWN_OF_ZONE, errors) for i, one in enumerate(zones)
        ],
    }
    survey = survey_read(Strict.open(plain, ("opening", "readings", "zones"), "", found))
    errors += found or implausible_readings(survey, _confirmed(readings))
    return survey


def _confirmed(readings: list[Any]) -> frozenset[str]:
    """Ids of readings that the sender has looked at again and stands by."""
    return frozenset(
        str(one.get("id"))
        for one in readings
        if isinstance(one, dict) and one.get("confirmed") is True
    )


def _own_members(row: Any, pointer: str, names: tuple[str, ...], errors: list[InputError]) -> Any:
    if not isinstance(row, dict):
        return row
    own = Strict(row, pointer, errors)
    uuid_of(own, "id")
    if names is OWN_OF_READING:
        _check_own(own)
    if "taken_at" in row and not _is_moment(row["taken_at"]):
        own.refuse("taken_at", "time_without_offset", TIME_SAYS, TIME_HINT)
    for index, one in enumerate(own.items("replaces")):
        uuid_of(Strict({str(index): one}, f"{pointer}/replaces", errors), str(index))
    return {name: value for name, value in row.items() if name not in names}


def _check_own(own: Strict) -> None:
    """Check what a reading says beside what the rules read."""
    if own.has("confirmed"):
        own.flag("confirmed")
    for name, most in (("note", LONGEST_NOTE), ("read_by", LONGEST_NAME)):
        if own.has(name):
            _short(own, name, most)
    if own.has("value_exact"):
        _exact_agrees(own)


def _short(own: Strict, name: str, most: int) -> str:
    """Read a text that fits its column."""
    value = own.members.get(name)
    if isinstance(value, str) and len(value) <= most:
        return value
    own.refuse(name, "not_a_text", f"{name} is a text of at most {most} characters.")
    return ""


def _exact_agrees(own: Strict) -> None:
    """Let a reading be sent back as it was given out, but never with two values in it."""
    try:
        exact = length_parse(own.members["value_exact"])
        agrees = exact.nm == length_parse(own.members.get("value")).nm
    except LengthError:
        agrees = False
    if not agrees:
        text = "value_exact is not the value in millimetres."
        own.refuse("value_exact", "values_differ", text, "Leave value_exact out.")


TIME_SAYS = "This is no time with an offset."
TIME_HINT = "Send for example 2026-03-07T09:00:00-05:00."


def _is_moment(value: Any) -> bool:
    try:
        moment = parse_datetime(value) if isinstance(value, str) else None
    except ValueError:
        return False
    return moment is not None and moment.tzinfo is not None and of_our_age(moment)


def _moment(own: Strict) -> datetime:
    value = own.members.get("taken_at")
    if not _is_moment(value):
        own.refuse(
            "taken_at", "missing" if value is None else "time_without_offset", TIME_SAYS, TIME_HINT
        )
        return datetime.min
    moment = parse_datetime(str(value))
    assert moment is not None  # noqa: S101
    return moment


def uuid_of(own: Strict, name: str) -> UUID | None:
    """Read a UUID made by the sender."""
    value = own.members.get(name)
    try:
        if isinstance(value, str) and len(value) == 36:
            return UUID(value)
    except ValueError:
        pass
    _refuse_uuid(own, name)
    return None


def _refuse_uuid(own: Strict, name: str) -> None:
    code = "missing" if own.members.get(name) is None else "not_a_uuid"
    text = f"{own.members.get(name)!r} is no UUID, as every id made by the sender is."
    own.refuse(name, code, text[:300], "A UUIDv7 (RFC 9562) is best.")


def _photos(own: Strict) -> list[str]:
    digests = []
    for index, value in enumerate(own.items("photos")):
        if isinstance(value, str) and DIGEST.fullmatch(value):
            digests.append(value)
        else:
            hint = "Put the image to /api/v1/photos/{sha256}/ and name it here."
            at = Strict({}, f"{own.pointer}/photos", own.errors)
            at.refuse(str(index), "not_a_digest", "A photo is named by its SHA-256.", hint)
    return digests


def _obstructions(own: Strict) -> list[Any]:
    boxes = []
    for one in own.children("obstructions", OBSTRUCTION):
        one.text("what")
        if one.has("surface"):
            one.text("surface")
        for name in OBSTRUCTION[2:]:
            one.length_or_none(name, zero=True)
        boxes.append(dict(one.members))
    return boxes
