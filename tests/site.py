"""A crew in a bathroom, for tests: what they record at each stop when all is as it should be."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from uuid_utils.compat import uuid7

from contractor.people.models import Qualification
from fitcheck.rules.length import length_parse
from jobs.bookings.models import Booking
from jobs.installs.marks import mark_ask
from jobs.installs.models import Install
from jobs.installs.reread import readings_read
from jobs.installs.sent import Sent
from jobs.installs.services import record_receive
from tests.clients import Caller
from tests.factories import CrewFactory, MemberFactory, survey_case
from tests.world import booked, jpeg

TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
METRIC = {**TAPE, "graduation": "1 mm"}
START = datetime.fromisoformat("2027-03-02T08:05:00-06:00")
FIRST, SECOND = "Hien Phan", "Callum Reyes"


def fresh() -> str:
    """A new UUIDv7, as a tablet makes them."""
    return str(uuid7())


@dataclass
class Site:
    """A booked install of a surveyed opening, and the tablet of the crew that is there."""

    tablet: Caller
    booking: Booking
    verdict: dict[str, Any]
    survey: dict[str, Any]
    install: dict[str, Any] = field(default_factory=dict)
    minutes: int = 0

    @property
    def id(self) -> str:
        return str(self.install["id"])

    def now(self) -> str:
        """The next moment: each fact is ten minutes after the one before."""
        self.minutes += 10
        return (START + timedelta(minutes=self.minutes)).isoformat()

    def start(self, **changes: Any) -> Any:
        """Start the install."""
        body = {"booking": self.booking.number, "started_at": START.isoformat(), **changes}
        answer = self.tablet.put(f"/api/v1/installs/{fresh()}/", body)
        assert answer.status_code in {200, 201}, answer.content
        self.install = answer.json()
        return answer

    def read(self) -> dict[str, Any]:
        """The install as it stands."""
        told: dict[str, Any] = self.tablet.get(f"/api/v1/installs/{self.id}/").json()
        return told

    def stop(self, key: str) -> dict[str, Any]:
        """One stop as it stands."""
        return next(one for one in self.read()["stops"] if one["key"] == key)

    def surveyed(self, need: dict[str, Any]) -> str:
        """What the survey, or the verdict for what is between brackets, says of a reading."""
        quantity = need["quantity"]
        if quantity == "between_brackets":
            return self.distance("head rail")
        rows = [
            one
            for one in self.survey["readings"]
            if (one["quantity"], one.get("side") or "none") == (quantity, need["side"])
        ]
        at = length_parse(need["height"]).nm
        near = min(rows, key=lambda one: abs(length_parse(one["height"]).nm - at))
        return str(near["value"])

    def distance(self, part: str) -> str:
        """The distance that the verdict foretells for a part."""
        return str(
            next(one for one in self.verdict["result"]["cuts"] if one["part"] == part)["distance"][
                "inch"
            ]
        )

    def body(self, key: str, **changes: Any) -> dict[str, Any]:
        """What is recorded at a stop when all is right."""
        stop = next(one for one in self.install["stops"] if one["key"] == key)
        body: dict[str, Any] = {
            "install": self.id,
            "kind": "stop",
            "stop": key,
            "taken_at": self.now(),
            "said_by": FIRST,
            "second_person": SECOND,
            "typed_why": "Their tablet is in the van.",
            "yes": [one["name"] for one in stop["needs"] if one["kind"] == "yes"],
            "photos": [jpeg()[0]],
            "readings": [
                {
                    **{name: one[name] for name in ("quantity", "side", "height")},
                    "value": self.surveyed(one),
                    "tool": TAPE,
                }
                for one in stop["needs"]
                if one["kind"] == "reading"
            ],
            "values": [
                {"name": one["name"], "value": "1/8 in", "tool": TAPE}
                for one in stop["needs"]
                if one["kind"] == "value"
            ],
        }
        if any(one["kind"] == "result" for one in stop["needs"]):
            body["result"] = "dry"
        return {**body, **changes}

    def record(self, key: str, **changes: Any) -> Any:
        """Put a record of a stop."""
        return self.put_record(self.body(key, **changes))

    def put_record(self, body: dict[str, Any], uuid: str = "") -> Any:
        return self.tablet.put(f"/api/v1/install-records/{uuid or fresh()}/", body)

    def plain(self, kind: str, **values: Any) -> Any:
        """Put a record that is no stop's."""
        body = {"install": self.id, "kind": kind, "taken_at": self.now(), **values}
        return self.put_record(body)

    def mark_body(self, part: str, *values: str, **changes: Any) -> dict[str, Any]:
        """Two readings for a part: as foretold unless told otherwise."""
        first, second = values or (self.distance(part), self.distance(part))
        rows = [(first, FIRST), (second, SECOND)]
        return {
            "install": self.id,
            "part": part,
            "taken_at": self.now(),
            "as_fixed": [{"value": v, "read_by": who, "tool": TAPE} for v, who in rows],
            "typed_why": "Their tablet is in the van.",
            **changes,
        }

    def mark(self, part: str, *values: str, **changes: Any) -> Any:
        """Ask for a saw mark."""
        body = self.mark_body(part, *values, **changes)
        return self.tablet.put(f"/api/v1/marks/{fresh()}/", body)

    def until(self, key: str) -> None:
        """Settle every stop before this one, in order."""
        for stop in self.read()["stops"]:
            if stop["key"] == key:
                return
            if stop["state"] == "open":
                self.settle(stop)

    def settle(self, stop: dict[str, Any]) -> None:
        """Settle one stop as it should be, through the services: what HTTP does is tried elsewhere."""
        by, install = self.tablet.member.caller(), Install.objects.get(pk=self.id)
        parts = [one["part"] for one in stop["needs"] if one["kind"] == "mark"]
        body = self.mark_body(parts[0]) if parts else self.body(stop["key"])
        at = body["taken_at"]
        rows = body.get("readings") or body.get("as_fixed") or []
        for number, one in enumerate(rows):
            one.update({"id": f"r{number}", "read_by": one.get("read_by", FIRST), "taken_at": at})
        sent = Sent(UUID(fresh()), FIRST, datetime.fromisoformat(at), body, fresh())
        if parts:
            row: Any = mark_ask(
                by=by, install=install, sent=sent, part=parts[0], typed_why="a test"
            )[0]
        else:
            sent = replace(sent, readings=readings_read(rows))
            row, _ = record_receive(
                by=by, install=install, sent=sent, kind="stop", stop=stop["key"]
            )
        assert row.state in {"done", "released"}, row


def cure_told(site: Site) -> float:
    """The hours before the first shower that the verdict itself tells."""
    return float(site.verdict["result"]["sealing"]["cure"]["hours"])


def site_of(
    tablet: Caller,
    measurer: Caller,
    like: str = "fits",
    change: Callable[[dict[str, Any]], None] | None = None,
    **opening: Any,
) -> Site:
    """Survey an opening, as `change` leaves the survey's body, and book its install for the tablet's crew."""
    case = survey_case(like, **opening)
    if change:
        change(case.body)
    answer = measurer.post("/api/v1/surveys/", case.body)
    assert answer.status_code == 201, answer.content
    able = MemberFactory(name=SECOND, qualifications=list(Qualification.values))
    crew = CrewFactory(members=[tablet.member, able, MemberFactory(), MemberFactory()])
    booking = booked(case.opening.job, crew)
    return Site(tablet, booking, answer.json()["verdict"], case.body)
