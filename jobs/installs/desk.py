"""How does an install stand on the desk? What is next, its stops, its saw marks, its pictures."""

from collections.abc import Mapping
from typing import Any

from django.urls import reverse
from django.utils.html import format_html, format_html_join

from contractor.api.callers import Caller
from contractor.api.desk import Banner, Desk, Picture, Show, Table, Task
from contractor.api.desk_values import shown
from fitcheck.drawings.cutbars import svg_cut_bars
from jobs.installs.forms import (
    DeskHandoverSerializer,
    DeskLookSerializer,
    DeskSkipSerializer,
    DeskSnagSerializer,
    DeskStopSerializer,
)
from jobs.installs.forms_cuts import (
    DeskMarkSerializer,
    DeskReadSerializer,
    DeskSawnSerializer,
)
from jobs.installs.models import Install, Mark, MarkState, Record
from jobs.installs.order import SETTLED, first_open
from jobs.installs.second import need_of
from jobs.installs.stand import snags_open, walked_of
from jobs.installs.told import said_kind, short_time, site_time, stops_told, what_next
from jobs.losses.models import Loss
from jobs.receiving.pieces import pieces_of
from jobs.verdicts.services import verdict_standing

SIGNS = {"done": "fits", "skipped": "tight", "held": "fails", "open": "unknown"}
SIGNS |= {"incomplete": "unknown", "noted": "noted"}
WORDS = {"under_way": "next"}
SECOND = {"own": "By their own sign-in.", "typed": "A typed name.", "none": "Nobody."}
MARKS = {MarkState.RELEASED.value: "fits", MarkState.HELD.value: "fails"}


def _open(row: Mapping[str, Any]) -> bool:
    return bool(row["state"] == "under_way")


def _next(row: Mapping[str, Any]) -> Any:
    return next((one for one in row["stops"] if one["state"] not in SETTLED), None)


def _wants_look(row: Mapping[str, Any]) -> bool:
    wanting = _next(row)
    return _open(row) and wanting is not None and need_of(wanting) is not None


def _wants_mark(row: Mapping[str, Any]) -> bool:
    left = [one for one in row["stops"] if one["state"] not in SETTLED]
    return _open(row) and any(_asks(one) & {"mark"} for one in left)


def _is_cut(row: Mapping[str, Any]) -> bool:
    return _open(row) and any(_asks(one) & {"mark"} for one in row["stops"])


def _asks(stop: Mapping[str, Any]) -> set[str]:
    return {one["kind"] for one in stop["needs"]}


# What a form of a stop asks beside what is always possible: by what the stop needs.
ASKED_FOR: Mapping[str, frozenset[str]] = {
    "all_right": frozenset({"yes"}),
    "second_person": frozenset({"second_person"}),
    "typed_why": frozenset({"second_person"}),
    "result": frozenset({"result"}),
    **dict.fromkeys(
        ("lengths", "tool", "accuracy_class", "graduation"), frozenset({"reading", "value"})
    ),
}


def _not_asked(row: Mapping[str, Any]) -> frozenset[str]:
    """Leave out of the form what the next stop does not ask."""
    wanting = _next(row)
    asks = _asks(wanting) if wanting else set()
    return frozenset(name for name, kinds in ASKED_FOR.items() if not kinds & asks)


INSTALL_DESK = Desk(
    add="Start an install",
    done="Started",
    searches={"booking": "/api/v1/bookings/", "opening": "/api/v1/openings/"},
    columns=("id", "opening", "job", "booking", "state", "started_by", "started_at", "finished_at"),
    lacks=frozenset({"app"}),
    hides=frozenset(
        {"stops", "snags", "next", "cure", "state", "door", "received_at", "earliest_use"}
    ),
    words={
        "started_at": ("Started", "Empty: now. Else with offset, 2027-03-02T08:10:00-06:00."),
        "all_right": ("All of it is so", "Everything that this stop asks was looked at and is so."),
        "first_value": ("First reading", "With its unit: 59 13/16 in."),
        "first_by": ("Read by", "Empty: you."),
        "second_value": (
            "Second reading",
            "Empty: what another of the crew sent from their own sign-in.",
        ),
        "second_by": ("Read by, second", "Only when they do not sign in themselves."),
        "new_part": ("A new part is there", "Only after a miscut; the miscut one is set aside."),
        "second_person": (
            "Second person",
            "Only when they do not sign in and say so themselves, before or after you.",
        ),
        "typed_why": ("Why they do not sign in", "A typed name alone settles nothing."),
        "found": ("Found", "Not right: the stop is held until it is put right."),
        "cause": ("Why it went wrong", "Its cause, for the costs of error."),
        "piece": ("Piece that must come anew", "Its number or name from the table of pieces."),
        "again": ("What must be done again", "A remake, a cut, or a visit."),
        "owed_by": ("Who may owe it", "A maker or carrier opens a claim with the photo."),
    },
    tasks=(
        Task(
            "stop",
            "Record the next stop",
            "What must be recorded stands in the list of stops.",
            DeskStopSerializer,
            done="Recorded",
            when=_open,
            lacks=_not_asked,
        ),
        Task(
            "looked",
            "Say that you looked as well",
            "As the second person at the next stop, from your own sign-in.",
            DeskLookSerializer,
            done="Kept",
            when=_wants_look,
        ),
        Task(
            "read",
            "Read the distance yourself",
            "For a saw mark; without being told what the other read.",
            DeskReadSerializer,
            done="Sent: now the other may ask for the mark",
            when=_wants_mark,
        ),
        Task(
            "mark",
            "Ask for a saw mark",
            "Two people read the distance, each for themselves. Saw only at a released mark.",
            DeskMarkSerializer,
            done="Answered: see the saw marks",
            when=_wants_mark,
        ),
        Task(
            "skip",
            "Pass a stop",
            "A lead answers for it by name; the reason is kept.",
            DeskSkipSerializer,
            done="Passed",
            when=_open,
        ),
        Task(
            "sawn",
            "A part is sawn",
            "Measure it before it is fitted. Too short to be hidden is a miscut: a loss is opened.",
            DeskSawnSerializer,
            done="Written down",
            when=_is_cut,
        ),
        Task(
            "snag",
            "Write down a snag",
            "A loss is opened with its cause; where a maker or carrier may owe it, a claim.",
            DeskSnagSerializer,
            done="Written down",
        ),
        Task(
            "handover",
            "Hand over",
            "Show the label, give the care sheet, tell how tempered glass fails; have it signed.",
            DeskHandoverSerializer,
            done="Handed over",
        ),
        Task("finish", "The work is finished", "The cure starts.", done="Finished", when=_open),
    ),
)


def install_show(install: Install, caller: Caller) -> Show:
    """Everything that the page of one install says."""
    walked = walked_of(install)
    wanting = first_open(walked)
    sign = "held" if wanting is not None and wanting.state == "held" else install.state
    banners = [Banner(WORDS.get(sign, sign), what_next(install, walked))]
    banners += [Banner("snag", one["note"]) for one in snags_open(install)]
    others = [one for one in walked if one.state == "held" and one is not wanting]
    banners += [Banner("held", f"{one.stop['title']}: {' '.join(one.wants)}") for one in others]
    tables = [_stops(install, walked), _marks(install), _facts(install), _used(install)]
    tables += [_pieces(install), _losses(install), _handovers(install)]
    return Show(banners, _pictures(install), tables)


def _sign(state: str, says: str) -> Any:
    return format_html('<span class="state {}">{}</span>', says, state)


def _stops(install: Install, walked: Any) -> Table:
    rows = [
        (
            number,
            one["title"],
            _sign(one["state"], SIGNS[one["state"]]),
            f"{one['by']}, {short_time(install, one['at'])}" if one["at"] else "",
            " ".join(one["do"]) or one["says"],
            one["key"],
        )
        for number, one in enumerate(stops_told(walked), start=1)
    ]
    heads = ("", "Stop", "State", "Recorded by", "What it takes", "Key")
    return Table("Stops, in their order", heads, rows)


def _marks(install: Install) -> Table:
    rows = [
        (
            one.part,
            _sign(one.state, MARKS[one.state]),
            one.length or "no length: held",
            one.result["saw"] or " ".join(one.result["hold"]),
            ", ".join(f"{r['value']} ({r['read_by']})" for r in one.body["as_fixed"]),
            _second(one),
            short_time(install, one.taken_at),
        )
        for one in install.marks.all()
    ]
    heads = ("Part", "State", "Saw at", "How, or what to do", "As read", "Second reader", "When")
    return Table("Saw marks", heads, rows, none="No saw mark was asked for yet.")


def _second(mark: Mark) -> str:
    """Say how it is known that a second person read it."""
    how = mark.result.get("second_reader", "none")
    why = mark.result.get("typed_why", "")
    return f"{SECOND[how]} {why}".strip()


def _facts(install: Install) -> Table:
    titles = {one["key"]: one["title"] for one in install.stops}
    rows = [
        (
            short_time(install, one.taken_at),
            said_kind(one.kind),
            titles.get(one.stop, ""),
            _sign(one.state, SIGNS[one.state]),
            one.said_by,
            _says(one),
            _photos(one.body.get("photos", [])),
        )
        for one in install.records.all()
    ]
    heads = ("When", "What", "Stop", "State", "By", "Says", "Photos")
    return Table("Everything that was recorded", heads, rows, none="Nothing yet.")


def _says(record: Record) -> str:
    """What a record says in words, and who looked as well, where its stop asks for that."""
    told = record.body.get("reason") or record.body.get("note") or " ".join(record.outcome["do"])
    if record.outcome.get("first"):
        return f"Settles what {record.outcome['first']} recorded."
    second = record.outcome.get("second")
    if not second or second["lacks"]:
        return str(told)
    return (
        f"{told} Second person: {second['name']}. {SECOND[second['how']]} {second['why']}".strip()
    )


def _used(install: Install) -> Table:
    rows = [
        (one.item.name, f"{one.amount} × {one.item.unit}", one.said_by, one.short or "")
        for one in install.movements.select_related("item").filter(move="used")
    ]
    heads = ("Part", "Used", "By", "Short by")
    return Table("Used from the van", heads, rows, none="Nothing was written down as used.")


def _pieces(install: Install) -> Table:
    rows = [
        (one.line.number, one.line.name, one.line.size, one.line.count, one.state)
        for one in pieces_of(opening=install.opening)
    ]
    heads = ("Number", "Piece", "Size", "Count", "How it stands")
    return Table("Pieces of this opening", heads, rows, none="Nothing is on order for it.")


def _losses(install: Install) -> Table:
    found = Loss.objects.filter(record__install=install).select_related("claim")
    rows = [
        (
            shown(one.number, "loss"),
            one.get_kind_display(),
            one.get_cause_display(),
            one.says,
            shown(one.claim.number, "claim") if one.claim else "",
        )
        for one in found
    ]
    heads = ("Loss", "What is done again", "Why", "Says", "Claim")
    return Table("What went wrong here", heads, rows, none="Nothing.")


def _handovers(install: Install) -> Table:
    rows = [
        (
            f"{one.person} {one.person_is}".strip(),
            site_time(install, one.signed_at),
            _signature(one),
            " ".join(one.lacks()) or "Label shown, care sheet given, tempered glass told.",
            one.follow_up_on or "",
        )
        for one in install.handovers.all()
    ]
    heads = ("To whom", "When", "Signed", "Told", "Follow-up on")
    return Table("Handed over", heads, rows, none="Not handed over yet.")


def _signature(row: Any) -> Any:
    if not row.signature:
        return f"Not signed: {row.unsigned_why}"
    url = reverse("signature-file", args=[row.signature])
    return format_html('<a href="{}">the signature</a>', url)


def _photos(digests: list[str]) -> Any:
    shown = (
        (reverse("photo-file", args=[one]), number) for number, one in enumerate(digests, start=1)
    )
    html = '<a href="{0}"><img src="{0}" alt="photo {1}" width="72" loading="lazy"></a>'
    return format_html_join(" ", html, shown)


def _pictures(install: Install) -> list[Picture]:
    verdict = verdict_standing(opening=install.opening)
    if verdict is None:
        return []
    url = reverse("verdict-cuts", args=[verdict.pk])
    return [Picture("Cuts foretold by the survey", svg_cut_bars(verdict.result), url)]
