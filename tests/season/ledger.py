"""What was asked, what was answered, and what did each request write? Every one is counted here."""

import json
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from contractor.notices.models import Notice
from tests.clients import Caller
from tests.schema_check import operation_of


class Surprise(Exception):
    """An answer that nobody can go on from: the season ends here, and says so."""


@dataclass
class Ledger:
    """Every request of the season: its answer, its notices, and what was not as it should be."""

    callers: dict[str, Caller]
    requests: Counter[str] = field(default_factory=Counter)
    refusals: Counter[str] = field(default_factory=Counter)
    writes: int = 0
    repeats: int = 0
    notices: int = 0
    place: int = 0
    breaches: list[str] = field(default_factory=list)

    def get(self, who: str, path: str) -> Any:
        """Read one address."""
        return self.send(who, "GET", path)

    def post(self, who: str, path: str, body: Any = None, **more: Any) -> Any:
        """Make a row, or do an action; the answer's body, or None when it was refused as it may be."""
        return self.send(who, "POST", path, body, **more)

    def put(self, who: str, path: str, body: Any, **more: Any) -> Any:
        """Put a fact under its own id."""
        return self.send(who, "PUT", path, body, **more)

    def act(self, who: str, path: str, action: str, body: Any = None, **more: Any) -> Any:
        """Read a row and do an action on the version that was seen."""
        seen = self.get(who, path)["version"]
        return self.post(who, f"{path}{action}/", body or {}, seen=seen, **more)

    def send(
        self,
        who: str,
        method: str,
        path: str,
        body: Any = None,
        *,
        may: tuple[str, ...] = (),
        again: bool = False,
        **more: Any,
    ) -> Any:
        """Send one request; its answer is held against the schema, its notices are counted.

        Args:
            may: codes of refusals that are no surprise here.
            again: whether the same was sent before, so that nothing may be written.
        """
        asked = more if body is None else {"data": body, **more}
        try:
            answer = getattr(self.callers[who], method.lower())(path, **asked)
        except AssertionError as wrong:
            raise Surprise(f"{who} {method} {path}: {wrong}") from wrong
        told = json.loads(answer.content) if answer.get("Content-Type", "").endswith("json") else {}
        self._count(who, method, path, answer.status_code, again=again)
        if answer.status_code >= 500:
            self.breach(f"{who} {method} {path} answered {answer.status_code}")
        if answer.status_code < 400:
            return told
        self.refusals[told.get("code", "?")] += 1
        if told.get("code") not in may:
            raise Surprise(f"{who} {method} {path} was refused: {told}")
        return None

    def upload(self, who: str, path: str, data: bytes, media: str) -> None:
        """Put an image under its digest."""
        answer = self.callers[who].generic("PUT", path, data, content_type=media)
        self._count(who, "PUT", path, answer.status_code, again=answer.status_code == 200)
        if answer.status_code not in {200, 201}:
            self.breach(f"{who} PUT {path} answered {answer.status_code}")

    def breach(self, text: str) -> None:
        """Write down what must not be."""
        self.breaches.append(text[:1200])

    def own_notices(self) -> list[str]:
        """Types of the notices since the last look."""
        fresh = list(
            Notice.objects.filter(pk__gt=self.place).order_by("pk").values_list("pk", "type")
        )
        if fresh:
            self.place = fresh[-1][0]
        return [kind for _, kind in fresh]

    def _count(self, who: str, method: str, path: str, status: int, *, again: bool) -> None:
        self.requests[who.split()[0]] += 1
        types = self.own_notices()
        self.notices += len(types)
        route = f"{method} {operation_of(method, path)}"
        if again or method == "GET" or status >= 400:
            self.repeats += again
            counted = status == 409 and route in GUARDED and set(types) <= {"save.counted"}
            if types and not counted:
                self.breach(f"{route} answered {status} and changed nothing, yet wrote {types}")
            return
        self.writes += 1
        wanted, may = TELLS.get(route, (frozenset(), frozenset()))
        own = [one for one in types if one in wanted]
        others = [one for one in types if one not in wanted and one not in may]
        if len(own) > 1 and set(own) == {"job.moved"}:  # moved by hand, it goes on by itself
            own = own[:1]
        if others or len(own) != bool(wanted):
            self.breach(f"{route} answered {status} and wrote {types}")


def _told(own: str, may: str = "") -> tuple[frozenset[str], frozenset[str]]:
    return frozenset(own.split()), frozenset(may.split())


# Which one notice each kind of write tells, and what else may follow from it by itself. A write that
# is not here, and one whose own part is empty, must tell nothing.
API = "/api/v1/"
STOPS = "warranty.noted install.finished install.cured_at_known job.moved"
BESIDE = "job.moved save.taken_back"
HARM = "loss.recorded claim.opened claim.evidence_added"
KNOCKED = "claim.opened claim.evidence_added job.moved"
TELLS = {
    f"{method} {API}{path}/": told
    for method, path, told in (
        ("POST", "customers", _told("customer.added")),
        ("POST", "sites", _told("site.added")),
        ("POST", "jobs", _told("job.opened")),
        ("POST", "openings", _told("opening.added")),
        ("PATCH", "openings/{id}", _told("opening.changed")),
        ("POST", "jobs/{id}/move", _told("job.moved", f"{BESIDE} warranty.noted")),
        ("POST", "surveys", _told("survey.received", "job.moved")),
        ("POST", "orders", _told("order.placed", "job.moved")),
        ("POST", "bookings", _told("booking.made booking.held", f"{BESIDE} booking.lapsed")),
        ("POST", "bookings/{id}/move", _told("booking.moved", f"{BESIDE} booking.lapsed")),
        ("POST", "bookings/{id}/confirm", _told("booking.confirmed", BESIDE)),
        ("POST", "bookings/{id}/cancel", _told("booking.cancelled", "job.moved")),
        ("POST", "bookings/{id}/no_show", _told("booking.no_show", "job.moved")),
        ("POST", "claims/{id}/file", _told("claim.filed")),
        ("POST", "claims/{id}/remake", _told("claim.remake_ordered", "order.placed job.moved")),
        ("POST", "claims/{id}/settle", _told("claim.settled", "loss.changed")),
        ("POST", "packets", _told("packet.asked", "packet.superseded")),
        ("PUT", "arrivals/{id}", _told("goods.received", "claim.opened job.moved")),
        ("PUT", "inspections/{id}", _told("goods.inspected", KNOCKED)),
        ("PUT", "photos/{digest}", _told("photo.received")),
        ("PUT", "signatures/{digest}", _told("signature.received")),
        ("PUT", "installs/{id}", _told("install.started")),
        (
            "PUT",
            "install-records/{id}",
            _told("install.stop_recorded", f"{STOPS} {HARM} goods.inspected"),
        ),
        ("PUT", "marks/{id}", _told("mark.held mark.released", STOPS)),
        ("PUT", "handovers/{id}", _told("handover.signed handover.unsigned", STOPS)),
        ("PUT", "stock-movements/{id}", _told("stock.moved")),
    )
}
# Where a guard's refusal is counted as saved, though the write itself changes nothing.
GUARDED = frozenset(
    f"POST {API}{path}/"
    for path in ("bookings", "bookings/{id}/move", "bookings/{id}/confirm", "jobs/{id}/move")
)
