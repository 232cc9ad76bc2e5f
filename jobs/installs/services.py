"""How is an install started, recorded and finished? Facts are kept whenever they come."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from contractor.api.callers import LEAD, OFFICE, Caller
from contractor.api.facts import check_same, kept_once
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Member
from fitcheck.kits.models import RuleSheet
from fitcheck.rules.survey import Zone
from jobs.bookings.models import Booking, State, Visit
from jobs.installs.cure import cure_of
from jobs.installs.harm import harm_record
from jobs.installs.judge import Judged, stop_judge
from jobs.installs.models import Install, Kind, Record, RecordState, StartedAgain
from jobs.installs.order import Standing
from jobs.installs.reread import known_of, zones_read
from jobs.installs.sawn import sawn_judge
from jobs.installs.second import look_judge, need_of, second_of
from jobs.installs.sent import Sent
from jobs.installs.stand import facts_of, still_open, walked_of
from jobs.installs.stops import GLASS, stops_for
from jobs.jobs.life import job_follow
from jobs.openings.models import Opening
from jobs.receiving.pieces import piece_named
from jobs.receiving.standing import goods_standing
from jobs.verdicts.services import verdict_standing


def install_find(*, key: Any) -> Install | None:
    """Find an install by its id, or by the id under which another tablet started it too."""
    found = Install.objects.filter(pk=key).first()
    if found is None:
        again = StartedAgain.objects.filter(pk=key).select_related("install").first()
        found = again.install if again else None
    return found


def install_start(
    *, by: Caller, sent: Sent, booking: Booking, opening: Opening
) -> tuple[Install, bool]:
    """Start an install of a booked visit; writes it with its stops, announces `install.started`.

    The same body again changes nothing; a second tablet's start is kept and led to the first.

    Raises:
        Problem: the id is taken, the visit is no install or cancelled, or no kit is decided on.
    """
    return kept_once(lambda: _start(by, sent, booking, opening))


def _start(by: Caller, sent: Sent, booking: Booking, opening: Opening) -> tuple[Install, bool]:
    known = Install.objects.filter(pk=sent.id).first()
    again = StartedAgain.objects.filter(pk=sent.id).first()
    if known is not None or again is not None:
        check_same(known or again, sent.digest, "install")
        return known or again.install, False  # type: ignore[union-attr]
    other = Install.objects.filter(booking=booking, opening=opening).first()
    if other is not None:
        StartedAgain.objects.create(
            id=sent.id, install=other, body=sent.body, caller=by.key, digest=sent.digest
        )
        notice_record(by=by, type="install.started_again", about=other.number)
        return other, False
    _check_visit(booking)
    sheet, size, zones = _sheet_of(opening)
    parsed = sheet.parsed()
    install = Install.objects.create(
        id=sent.id,
        booking=booking,
        opening=opening,
        sheet=sheet,
        size=size,
        door=parsed.kind,
        stops=stops_for(parsed, parsed.size(size), zones),
        started_by=sent.said_by,
        started_at=sent.taken_at,
        app=sent.body.get("app", ""),
        notes=sent.body.get("notes", ""),
        caller=by.key,
        digest=sent.digest,
    )
    changes = {"booking": [None, booking.number], "opening": [None, opening.number]}
    notice_record(by=by, type="install.started", about=install.number, changes=changes)
    return install, True


def stops_of(opening: Opening) -> list[dict[str, Any]]:
    """The stops that an install of an opening would have; none while no kit is decided on."""
    try:
        sheet, size, zones = _sheet_of(opening)
    except Problem:
        return []
    parsed = sheet.parsed()
    return stops_for(parsed, parsed.size(size), zones)


def _check_visit(booking: Booking) -> None:
    if booking.visit != Visit.INSTALL:
        text = f"{booking.number} is a visit for {booking.get_visit_display().lower()}."
        hint = "Name the booking of the install."
        raise Problem("not_an_install", text, status=409, hint=hint, pointer="/booking")
    if booking.state != State.BOOKED:
        text = f"{booking.number} is {booking.state}."
        hint = "Ask the office to book the visit."
        raise Problem("booking_cancelled", text, status=409, hint=hint, pointer="/booking")


def _sheet_of(opening: Opening) -> tuple[RuleSheet, str, tuple[Zone, ...]]:
    """Sheet, size and walls of the verdict that stands, else the newest sheet of the kit decided on."""
    verdict = verdict_standing(opening=opening)
    if verdict is not None:
        size = str(verdict.result.get("size") or "")
        return verdict.sheet, size, zones_read(verdict.inputs.get("zones") or [])
    sheet = (
        RuleSheet.objects.filter(kit_id=opening.kit_id).order_by("-number").first()
        if opening.kit_id
        else None
    )
    if sheet is None:
        raise Problem(
            "no_kit",
            f"Nobody has decided which kit goes into {opening.number}.",
            status=409,
            hint="Ask for a verdict with its kit first.",
            pointer="/opening",
        )
    return sheet, "", ()


def record_receive(
    *, by: Caller, install: Install, sent: Sent, kind: str, stop: str = ""
) -> tuple[Record, bool]:
    """Keep what was recorded; writes it, announces `install.stop_recorded`, and finishes the install
    when that was the last thing wanting. What went wrong opens a loss, and perhaps a claim.

    A record that comes before its turn is kept and told, never thrown away.

    Raises:
        Problem: the id is taken, there is no such stop, or a skip is not by a lead.
    """
    return kept_once(lambda: _record(by, install.pk, sent, kind, stop))


def _record(by: Caller, key: UUID, sent: Sent, kind: str, stop: str) -> tuple[Record, bool]:
    install = Install.objects.select_for_update(no_key=True).get(pk=key)
    known = Record.objects.filter(pk=sent.id).first()
    if known is not None:
        check_same(known, sent.digest, "record")
        return known, False
    if kind == Kind.SKIP:
        check_lead(by, install)
    judged = _judge(by, install, sent, kind, stop)
    record = Record.objects.create(
        id=sent.id,
        install=install,
        kind=kind,
        stop=stop,
        state=judged.state,
        body=sent.body,
        outcome=judged.as_json(),
        said_by=sent.said_by,
        author_id=by.member_id,
        taken_at=sent.taken_at,
        caller=by.key,
        digest=sent.digest,
    )
    changes = {"kind": [None, kind], "stop": [None, stop], "state": [None, record.state]}
    notice_record(
        by=by,
        type="install.stop_recorded",
        about=install.number,
        changes=changes,
        reason=sent.body.get("reason", ""),
    )
    title = stop_named(install, stop)["title"] if stop else record.get_kind_display()
    harm_record(by=by, record=record, title=title, miscut=judged.miscut)
    install_settle(by=by, install=install)
    return record, True


def check_lead(by: Caller, install: Install) -> None:
    """Refuse a skip by anybody but a lead or the office.

    Raises:
        Problem: naming who may.
    """
    if by.role in {OFFICE, LEAD}:
        return
    places = install.booking.crew.places
    leads = places.filter(member_id=by.member_id or 0, is_lead=True).exists()
    if leads or Member.objects.filter(pk=by.member_id or 0, role=LEAD).exists():
        return
    raise Problem(
        "lead_needed",
        "Only a lead may let a stop be passed.",
        status=403,
        hint="Ask your lead; the stop waits.",
        pointer="/kind",
    )


def stop_named(install: Install, key: str) -> dict[str, Any]:
    """Find a stop of an install.

    Raises:
        Problem: there is none of this name; the hint lists them.
    """
    for one in install.stops:
        if one["key"] == key:
            return dict(one)
    names = ", ".join(one["key"] for one in install.stops)
    raise Problem(
        "stop_unknown",
        f"This install has no stop `{key}`.",
        hint=f"Its stops: {names}.",
        pointer="/stop",
    )


def _judge(by: Caller, install: Install, sent: Sent, kind: str, stop: str) -> Judged:
    if kind in {Kind.STOP, Kind.SKIP, Kind.SAWN, Kind.AS_FIXED, Kind.LOOKED}:
        told = stop_named(install, stop)
        needs = {one["kind"] for one in told["needs"]}
        if kind == Kind.SKIP:
            return Judged(RecordState.SKIPPED)
        if kind == Kind.AS_FIXED:
            return _reading_noted(by, told)
        if kind == Kind.LOOKED:
            return look_judge(by=by, install=install, stop=told)
        if kind == Kind.SAWN:
            return sawn_judge(install=install, stop=told, sawn=sent.body["sawn"])
        if needs & {"mark", "handover"}:
            return _settled_elsewhere(told)
        return _stop_judged(by, install, sent, told)
    if kind == Kind.SNAG and sent.body.get("piece"):
        piece = piece_named(opening=install.opening, name=sent.body["piece"])
        return Judged(RecordState.NOTED, more={"piece": piece.number})
    if kind == Kind.FINISH:
        wanting = still_open(walked_of(install))
        return Judged(RecordState.HELD, do=said_open(wanting)) if wanting else Judged("done")
    return Judged(RecordState.NOTED)


def _stop_judged(by: Caller, install: Install, sent: Sent, stop: dict[str, Any]) -> Judged:
    """Hold a record against its stop, the survey, the goods, and who looked as well."""
    second = second_of(by=by, install=install, stop=stop, sent=sent)
    judged = stop_judge(
        stop=stop,
        body=sent.body,
        readings=sent.readings,
        known=known_of(install.opening, install.sheet.parsed()),
        second_lacks=second.lacks(stop),
    )
    if need_of(stop) is not None:
        judged.more["second"] = second.as_json(stop)
    if sent.body.get("piece"):
        named = piece_named(opening=install.opening, name=sent.body["piece"])
        judged.more["piece"] = named.number
    return _with_goods(install, judged) if stop["key"] == GLASS else judged


def _reading_noted(by: Caller, stop: Mapping[str, Any]) -> Judged:
    """Note what one member read for a saw mark, each for themselves; the mark names it later.

    Raises:
        Problem: nobody is signed in, or nothing is sawn at this stop.
    """
    if by.member_id is None or all(one["kind"] != "mark" for one in stop["needs"]):
        raise Problem(
            "not_a_reading",
            "A reading as fixed is put by its own reader, at the stop of a cut.",
            hint="Send it from your own sign-in or tablet, at a stop such as cut_head_rail.",
            pointer="/stop",
        )
    return Judged(RecordState.NOTED)


def _with_goods(install: Install, judged: Judged) -> Judged:
    """Hold the inspection of the glass while a piece is known to be unsound."""
    unsound = goods_standing(job=install.booking.job).damaged
    if unsound:
        judged.state = RecordState.HELD
        judged.do.append(
            f"Not sound when it came: {', '.join(unsound)}. Hang nothing of it; the office orders anew."
        )
    return judged


def _settled_elsewhere(stop: Mapping[str, Any]) -> Judged:
    """A record alone never releases a mark, nor stands for a handover."""
    need = stop["needs"][0]["kind"]
    do = "Ask for the saw mark." if need == "mark" else "Make the handover record."
    return Judged(RecordState.NOTED, missing=[do], do=[do])


def said_open(wanting: Standing | None) -> list[str]:
    """Say which stop comes first and what would settle it."""
    if wanting is None:
        return []
    return [f"First: {wanting.stop['title']}.", *wanting.wants]


def install_settle(*, by: Caller, install: Install) -> None:
    """Finish an install whose crew has said that it is done once nothing is wanting.

    Writes finish, cure and earliest use; announces `install.finished` and `install.cured_at_known`.
    """
    if install.finished_at is not None:
        return
    finish = install.records.filter(kind=Kind.FINISH).order_by("taken_at", "pk").last()
    if finish is None or still_open(walked_of(install)) is not None:
        return
    earliest, cure = cure_of(install=install, facts=facts_of(install), finished_at=finish.taken_at)
    values = {"finished_at": finish.taken_at, "earliest_use": earliest, "cure": cure}
    row_change(row=install, by=by, type="install.finished", values=values)
    if earliest is not None:
        at = {"earliest_use": [None, earliest.isoformat()], "says": [None, cure["do"]]}
        notice_record(by=by, type="install.cured_at_known", about=install.number, changes=at)
    job_follow(by=by, job=install.booking.job, action="install")
