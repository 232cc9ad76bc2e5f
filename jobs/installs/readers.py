"""Who read the distance as fixed, and how do we know? By their own sign-in, or a name that somebody typed.

A second reader puts the reading from their own sign-in or tablet, as a record of kind `as_fixed`, and
the mark names it by its id. So two of the crew are sure to have read it; a typed name is only said.
"""

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.people.models import Member
from jobs.installs.models import Install, Kind, Record
from jobs.installs.order import Standing
from jobs.installs.stand import record_at
from jobs.installs.stops import BRACKETS, cut_key

OWN, TYPED, NOT_OF_CREW = "own", "typed", "not_of_crew"
HOW = (OWN, TYPED, NOT_OF_CREW)
ENOUGH = 2
Row = dict[str, Any]


def rows_with_records(rows: Any, *, install: Install, part: str) -> Any:
    """Put in the place of `{"record": id}` the reading that this record holds.

    Raises:
        Problem: this install has no such record of this part.
    """
    if not isinstance(rows, list):
        return rows
    return [
        _from_record(one, install, part, index) if _names_record(one) else one
        for index, one in enumerate(rows)
    ]


def _names_record(row: Any) -> bool:
    return isinstance(row, dict) and set(row) == {"record"}


def _from_record(row: Row, install: Install, part: str, index: int) -> Row:
    key = _key(row["record"])
    rows = install.records.filter(kind=Kind.AS_FIXED, stop=cut_key(part))
    found = rows.filter(pk=key).first() if key is not None else None
    if found is None:
        raise Problem(
            "does_not_exist",
            f"This install has no reading {row['record']} for the {part}.",
            hint="Send the id of a record of kind as_fixed at this cut, or the reading itself.",
            pointer=f"/as_fixed/{index}/record",
        )
    return reading_of(found)


def _key(text: Any) -> UUID | None:
    try:
        return UUID(str(text))
    except ValueError:
        return None


def reading_of(record: Record) -> Row:
    """The reading of a record of kind `as_fixed`, as the rules take it."""
    told = record.body["values"][0]
    return {
        "id": str(record.pk),
        "value": told["value"],
        "read_by": record.author.name if record.author else record.said_by,
        "taken_at": record.taken_at.isoformat(),
        "tool": told["tool"],
    }


def newest_by_another(*, install: Install, part: str, than: int | None) -> Record | None:
    """The newest reading of a part that another member put from their own sign-in."""
    rows = install.records.filter(kind=Kind.AS_FIXED, stop=cut_key(part))
    return rows.exclude(author_id=than).order_by("taken_at", "pk").last()


def readers_of(
    *, by: Caller, install: Install, rows: Sequence[Row], walked: list[Standing]
) -> list[dict[str, str]]:
    """Say of each reading who read it and how that is known; what was read at the brackets counts too."""
    crew = crew_of(install)
    keys = [str(one.get("id", "")) for one in rows]
    kept = {str(one.pk): one for one in _records(install, keys)}
    caller = Member.objects.filter(pk=by.member_id or 0).first()
    told = [_reader(one["read_by"], _member(one, kept, caller), crew) for one in rows]
    return told + _at_the_brackets(install, walked, crew)


def _records(install: Install, keys: Sequence[str]) -> Any:
    known = [one for one in map(_key, keys) if one is not None]
    return install.records.filter(pk__in=known, kind=Kind.AS_FIXED).select_related("author")


def _member(row: Row, kept: Mapping[str, Record], caller: Member | None) -> Member | None:
    """The member whose own sign-in a reading came by."""
    record = kept.get(str(row.get("id", "")))
    if record is not None and reading_of(record)["value"] == row["value"]:
        return record.author
    return caller if caller is not None and same_name(caller.name, row["read_by"]) else None


def crew_of(install: Install) -> set[int]:
    """Keys of the members of the crew that is there."""
    return set(install.booking.crew.places.values_list("member_id", flat=True))


def same_name(one: str, other: str) -> bool:
    """Whether two names are one, whatever their case and spaces."""
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())


def _reader(name: str, member: Member | None, crew: set[int]) -> dict[str, str]:
    if member is None:
        return {"name": name, "member": "", "how": TYPED}
    how = OWN if member.pk in crew else NOT_OF_CREW
    return {"name": member.name, "member": member.number, "how": how}


def _at_the_brackets(
    install: Install, walked: list[Standing], crew: set[int]
) -> list[dict[str, str]]:
    record = record_at(install, walked, BRACKETS)
    if record is None or record.author is None:
        return []
    rows = [r for r in record.body.get("readings", []) if r["quantity"] == "between_brackets"]
    own = any(same_name(record.author.name, one["read_by"]) for one in rows)
    return [_reader(record.author.name, record.author, crew)] if own else []


def second_reader(readers: Sequence[Mapping[str, str]]) -> str:
    """In one word how it is known that a second person read it: own, typed, or none at all."""
    sure = {one["member"] for one in readers if one["how"] == OWN}
    if len(sure) >= ENOUGH:
        return OWN
    names = {" ".join(one["name"].casefold().split()) for one in readers}
    return TYPED if len(names) >= ENOUGH else "none"


def reader_holds(readers: Sequence[Mapping[str, str]], why: str) -> list[str]:
    """Hold the mark while the second reader is only a name, and nobody says why."""
    if second_reader(readers) != TYPED or why.strip():
        return []
    names = ", ".join(dict.fromkeys(one["name"] for one in readers if one["how"] != OWN))
    return [
        f"Do not saw: that {names} read it is only typed. Another of the crew reads it and sends it from"
        " their own sign-in; or say why they cannot (`typed_why`)."
    ]
