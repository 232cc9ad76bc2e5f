"""How was flat B4 hung, three days before the story begins? Stop by stop, with one cut that was held.

Everything goes through the rooms' own services under ids made of its name, so that a kill leaves
whole facts and the next telling goes on with the first that is missing.
"""

import hashlib
import io
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from contractor.config.demo.drawn import photo_drawn
from contractor.config.demo.story import NAMES
from contractor.people.models import Crew, Member
from jobs.bookings.models import Booking
from jobs.bookings.services import booking_make
from jobs.handovers.services import handover_make
from jobs.handovers.signatures import signature_keep
from jobs.installs.marks import mark_ask
from jobs.installs.models import Install
from jobs.installs.readers import reading_of
from jobs.installs.reread import readings_read
from jobs.installs.sent import Sent
from jobs.installs.services import install_start, record_receive
from jobs.installs.stops import cut_key
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.verdicts.services import heads_of, verdict_standing

DAYS_BEFORE, HOUR = 3, 8
TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
BURNED = "1 in"
SIGNATURE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 240 80">'
    b'<path d="M 12 52 C 30 4 44 70 58 40 S 88 20 96 48 S 130 66 148 30 L 224 44"/></svg>'
)
WHY = "Flat B4 alone is hung on this visit; B9 waits for its strip."


@dataclass
class Visit:
    """The crew in flat B4, and the clock on its wall."""

    opening: Opening
    booking: Booking
    lead: Member
    helper: Member
    start: datetime
    minutes: int = 0
    install: Install | None = None
    photos: dict[str, str] = field(default_factory=dict)

    def sent(self, name: str, body: dict[str, Any], **more: Any) -> Sent:
        """A fact of the lead's, a quarter of an hour after the one before."""
        self.minutes += 15
        key = uuid5(NAMES, f"install of flat B4, {name}")
        at = self.start + timedelta(minutes=self.minutes)
        digest = hashlib.sha256(name.encode()).hexdigest()
        return Sent(UUID(str(key)), self.lead.name, at, body, digest, **more)


def install_tell(rows: dict[str, Any], office: Member, first_day: date) -> Install:
    """Find or tell the install of flat B4: every stop, a burned inch that was held, the handover."""
    visit = _visit(rows, office, first_day)
    by = visit.lead.caller()
    started = visit.sent("start", {"app": "invented story"})
    install, _ = install_start(by=by, sent=started, booking=visit.booking, opening=visit.opening)
    visit.install = install
    for stop in install.stops:
        parts = [one["part"] for one in stop["needs"] if one["kind"] == "mark"]
        if parts:
            _mark(visit, parts[0])
        elif not any(one["kind"] == "handover" for one in stop["needs"]):
            _stop(visit, stop)
    told = {"note": "One cap of the towel bar is scratched: bring another.", "cause": "handling"}
    snag = visit.sent("snag", {**told, "again": "call_back", "owed_by": "firm"})
    record_receive(by=by, install=install, sent=snag, kind="snag")
    record_receive(by=by, install=install, sent=visit.sent("finish", {}), kind="finish")
    _hand_over(visit, first_day)
    install.refresh_from_db()
    return install


def _visit(rows: dict[str, Any], office: Member, first_day: date) -> Visit:
    job: Job = rows["j-07"]
    opening = rows["o-07"]
    crew: Crew = rows["c-otter"]
    wall = datetime.combine(first_day - timedelta(days=DAYS_BEFORE), time(HOUR))
    start = wall.replace(tzinfo=ZoneInfo(job.site.time_zone))
    booking = Booking.objects.filter(job=job, visit="install").first() or booking_make(
        by=office.caller(),
        job=job,
        crew=crew,
        visit="install",
        starts_at=start,
        ends_at=start + timedelta(hours=5),
        override_name=office.name,
        override_reason=WHY,
        notes="Flat B4 only. Invented, as everything here.",
    )
    return Visit(opening, booking, rows["m-dov"], rows["m-petra"], start)


def _stop(visit: Visit, stop: dict[str, Any]) -> None:
    needs = stop["needs"]
    rows = [_reading(visit, one, n) for n, one in enumerate(needs) if one["kind"] == "reading"]
    _looked(visit, stop)
    body: dict[str, Any] = {
        "yes": [one["name"] for one in needs if one["kind"] == "yes"],
        "values": [
            {"name": one["name"], "value": "1/8 in", "tool": TAPE}
            for one in needs
            if one["kind"] == "value"
        ],
        "readings": rows,
    }
    if any(one["kind"] == "photo" for one in needs):
        body["photos"] = [photo_drawn(by=visit.lead.caller(), title=stop["title"])]
    if any(one["kind"] == "result" for one in needs):
        body["result"] = "dry"
    if stop["key"] == "bead_run":
        body |= {"sealant": "clear-silicone", "celsius": "20", "humidity": "45"}
    sent = visit.sent(stop["key"], body, readings=readings_read(rows))
    assert visit.install is not None  # noqa: S101
    by = visit.lead.caller()
    record_receive(by=by, install=visit.install, sent=sent, kind="stop", stop=stop["key"])


def _looked(visit: Visit, stop: dict[str, Any]) -> None:
    """Let the helper say so from their own sign-in, where a stop asks for a second person."""
    if all(one["kind"] != "second_person" for one in stop["needs"]):
        return
    key, by = stop["key"], visit.helper.caller()
    visit.minutes -= 10  # five minutes after the lead turned to it
    sent = replace(visit.sent(f"{key}_looked", {}), said_by=visit.helper.name)
    assert visit.install is not None  # noqa: S101
    record_receive(by=by, install=visit.install, sent=sent, kind="looked", stop=key)


def _reading(visit: Visit, need: dict[str, Any], number: int) -> dict[str, Any]:
    """Read on site what the survey says: nothing has moved since."""
    at = visit.start.isoformat()
    place = {name: need[name] for name in ("quantity", "side", "height")}
    own = {"id": f"r{number}", "tool": TAPE, "read_by": visit.lead.name, "taken_at": at}
    return {**place, **own, "value": _surveyed(visit, need)}


def _surveyed(visit: Visit, need: dict[str, Any]) -> str:
    if need["quantity"] == "between_brackets":
        return _distance(visit, "head rail")
    heads = heads_of(visit.opening)
    assert heads is not None  # noqa: S101
    rows = [
        one
        for one in heads.readings
        if (one.quantity, one.side or "none") == (need["quantity"], need["side"])
    ]
    same = [one.value for one in rows if one.height == need["height"]]
    return same[0] if same else rows[-1].value


def _distance(visit: Visit, part: str) -> str:
    verdict = verdict_standing(opening=visit.opening)
    assert verdict is not None  # noqa: S101
    cut = next(one for one in verdict.result["cuts"] if one["part"] == part)
    return str(cut["distance"]["inch"])


def _mark(visit: Visit, part: str) -> None:
    """Ask once with the helper's tape started at its 1, where it is the rail, and then aright."""
    right = _distance(visit, part)
    if part == "head rail":
        whole, _, rest = right.partition(" ")
        _ask(visit, part, f"{part}, a burned inch", right, f"{int(whole) + 1} {rest}")
    _ask(visit, part, f"{part}, read again", right, right)


def _ask(visit: Visit, part: str, name: str, first: str, second: str) -> None:
    """The helper reads for herself and sends it by her own sign-in; then the lead asks."""
    assert visit.install is not None  # noqa: S101
    values = [{"name": "as_fixed", "value": second, "tool": TAPE}]
    own = replace(visit.sent(f"{name}, second", {"values": values}), said_by=visit.helper.name)
    record, _ = record_receive(
        by=visit.helper.caller(),
        install=visit.install,
        sent=own,
        kind="as_fixed",
        stop=cut_key(part),
    )
    sent = visit.sent(name, {})
    at = sent.taken_at.isoformat()
    mine = {"id": "r1", "value": first, "read_by": visit.lead.name, "taken_at": at, "tool": TAPE}
    sent.body["as_fixed"] = [mine, reading_of(record)]
    mark_ask(by=visit.lead.caller(), install=visit.install, sent=sent, part=part)


def _hand_over(visit: Visit, first_day: date) -> None:
    by, digest = visit.lead.caller(), hashlib.sha256(SIGNATURE).hexdigest()
    signature_keep(by=by, digest=digest, stream=io.BytesIO(SIGNATURE))
    values = {
        "person": "Ansel Okonedo-Hale (invented)",
        "person_is": "caretaker of the house",
        "label_shown": True,
        "care_sheet_given": True,
        "tempered_told": True,
        "use_told": True,
        "signature": digest,
        "follow_up_on": first_day + timedelta(days=11),
    }
    assert visit.install is not None  # noqa: S101
    handover_make(by=by, install=visit.install, sent=visit.sent("handover", {}), values=values)
