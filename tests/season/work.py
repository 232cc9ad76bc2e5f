"""What does the office do about one job, by what its page says comes next?"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from tests.season.bathroom import KIT, Bathroom
from tests.season.clock import Clock
from tests.season.ledger import Ledger

JOBS, OFFICE, PROGRAM = "/api/v1/jobs/", "office", "program"
HOURS = {"survey": "1", "install": "3", "follow_up": "0.5"}

WAY_IN = {
    "passes": ["corner", "stairs"],
    "door_width": "32 in",
    "door_height": "80 in",
    "corridor_width": "38 in",
    "corridor_height": "95 in",
    "stair_width": "36 in",
    "stair_headroom": "80 in",
    "stair_rise": "7 1/2 in",
    "stair_going": "10 in",
}


@dataclass
class Chances:
    """How often something goes wrong [-]."""

    burned: float = 0.15
    too_wide: float = 0.06
    seen_on_the_spot: float = 0.5
    amiss: float = 0.2
    no_show: float = 0.08
    moved: float = 0.1
    cancelled: float = 0.05
    raced: float = 0.3
    held: float = 0.15
    forgotten: float = 0.3
    changed: float = 0.03
    knocked: float = 0.06
    broken: float = 0.06
    repeated: float = 0.15
    misread: float = 0.35
    unsigned: float = 0.25


@dataclass
class Work:
    """One job as the season knows it: its numbers, its true bathroom, what it waits for."""

    job: str
    opening: str
    zone: str
    bath: Bathroom
    surveys: list[str] = field(default_factory=list)
    order: dict[str, Any] | None = None
    due: date | None = None
    booked: dict[str, dict[str, Any]] = field(default_factory=dict)
    ordered: bool = False
    here: list[dict[str, Any]] = field(default_factory=list)
    over: bool = False

    @property
    def path(self) -> str:
        """Where the job is."""
        return f"{JOBS}{self.job}/"


@dataclass
class Desk:
    """The office at its desk and the scheduling program, on one day."""

    ledger: Ledger
    clock: Clock
    chance: random.Random
    chances: Chances
    quick: bool
    works: list[Work] = field(default_factory=list)
    tally: dict[str, int] = field(default_factory=dict)

    def happens(self, what: str) -> bool:
        """Draw one chance, and count it."""
        if self.chance.random() >= getattr(self.chances, what):
            return False
        self.tally[what] = self.tally.get(what, 0) + 1
        return True

    def enquiry(self, number: int) -> None:
        """Somebody calls: write down customer, site, job and opening."""
        made = self.ledger.post
        customer = made(
            OFFICE,
            "/api/v1/customers/",
            {"name": f"Invented Customer {number}", "email": f"customer-{number}@example.com"},
        )
        zone = self.chance.choice(["America/Chicago", "America/Indiana/Indianapolis"])
        site = {
            "customer": customer["id"],
            "address": {
                "streetAddress": f"{number} Quillback Row",
                "addressLocality": "Marrowgate",
            },
            "time_zone": zone,
            "latitude": f"{41.2 + self.chance.uniform(-0.1, 0.1):.6f}",
            "longitude": f"{-87.0 + self.chance.uniform(-0.1, 0.1):.6f}",
            "year_built": self.chance.choice([1998, 1998, 2011, 1964]),
            "way_in": WAY_IN,
        }
        site = made(OFFICE, "/api/v1/sites/", site)
        job = made(OFFICE, JOBS, {"site": site["id"], "summary": f"Slider {number}"})
        told = {"job": job["id"], "name": "Hall bathroom", "enclosure": "alcove"}
        told |= {"stands_on": "curb", "shower_head_side": "left"}
        opening = made(OFFICE, "/api/v1/openings/", told)
        bath = Bathroom.drawn(self.chance, too_wide=self.happens("too_wide"))
        self.works.append(Work(job["id"], opening["id"], zone, bath))

    def morning(self, today: date) -> None:
        """Go through every open job, and do what comes next."""
        for work in self.works:
            if not work.over:
                self._next(work, today)

    def _next(self, work: Work, today: date) -> None:
        job = self.ledger.get(OFFICE, work.path)
        if job["next"] is None:
            work.over = True
            return
        todo: dict[str, Callable[[Work, date], None]] = {
            "enquiry": lambda w, d: self.visit(w, "survey", d),
            "surveyed": self._decide,
            "decided": self._order,
            "ordered": self._claims,
            "received": self._received,
            "handed_over": self._follow_up,
            "followed_up": self._close,
        }
        if job["state"] in todo:
            todo[job["state"]](work, today)

    def move(self, work: Work, action: str, reason: str = "", **more: Any) -> Any:
        """Move a job by hand."""
        told = {"action": action, "reason": reason}
        return self.ledger.act(OFFICE, work.path, "move", told, **more)

    def _decide(self, work: Work, today: date) -> None:
        verdicts = self.ledger.get(OFFICE, f"/api/v1/verdicts/?opening={work.opening}")["results"]
        state = max(verdicts, key=lambda one: one["given_at"])["state"]
        if state == "fails" and len(work.surveys) > 1:
            self.move(work, "cancel", "The kit does not reach, and no other is wanted.")
            work.over = True
            return
        if state in {"fails", "unknown"} and len(work.surveys) < 3:
            self.move(work, "decide", may=("not_yet",))
            self.move(work, "survey_again", "The survey does not hold together.")
            return
        opening = f"/api/v1/openings/{work.opening}/"
        seen = self.ledger.get(OFFICE, opening)
        if seen["kit"] != KIT:
            self.ledger.send(OFFICE, "PATCH", opening, {"kit": KIT}, seen=seen["version"])
        # The description is part of what was asked; the kit chosen is not, so the verdict stands.
        action = "decide" if state == "fits" else "decide_anyway"
        self.move(work, action, "" if state == "fits" else "Shimmed by us; I answer for it.")
        self._order(work, today)

    def _order(self, work: Work, today: date) -> None:
        if work.ordered:  # before the customer's change: the pieces are here
            state = self.ledger.get(OFFICE, work.path)["state"]
            if state == "decided":  # else it went on by itself
                self.move(work, "order")
            return
        work.ordered = True
        work.due = today + timedelta(days=0 if self.quick else self.chance.randint(3, 9))
        told = {"job": work.job, "kind": "kit", "expected_on": work.due.isoformat()}
        work.order = self.ledger.post(OFFICE, "/api/v1/orders/", told)

    def _claims(self, work: Work, today: date) -> None:
        """File what is open, order the pieces anew; what is all here, as before a change, is received."""
        if work.ordered and not work.order:
            self.move(work, "receive", may=("not_yet",))
        for one in self.ledger.get(OFFICE, f"/api/v1/claims/?job={work.job}")["results"]:
            path = f"/api/v1/claims/{one['id']}/"
            if one["state"] == "open":
                told = {"on": today.isoformat(), "how": "By mail with photos."}
                self.ledger.act(OFFICE, path, "file", told)
                work.due = today + timedelta(days=0 if self.quick else self.chance.randint(2, 6))
                told = {"expected_on": work.due.isoformat()}
                claim = self.ledger.act(OFFICE, path, "remake", told)
                work.order = self.ledger.get(OFFICE, f"/api/v1/orders/{claim['remake']}/")

    def _received(self, work: Work, today: date) -> None:
        """Book the install, unless the customer wants it otherwise after all."""
        why = "The other handle after all."
        if self.happens("changed") and self.move(work, "change", why, may=("not_yet",)):
            return
        self.visit(work, "install", today)

    def _follow_up(self, work: Work, today: date) -> None:
        if self.move(work, "follow_up", may=("not_yet",)) is None:
            self.visit(work, "follow_up", today)

    def _close(self, work: Work, today: date) -> None:
        if self.move(work, "close", may=("not_yet",)) is not None:
            work.over = True
            return
        for one in self.ledger.get(OFFICE, f"/api/v1/claims/?job={work.job}")["results"]:
            if one["state"] in {"open", "filed"}:
                told = {"outcome": "replaced", "says": "A new piece came.", "cost": "0.00"}
                path = f"/api/v1/claims/{one['id']}/"
                self.ledger.act(OFFICE, path, "settle", {**told, "currency": "USD"})
        self.move(work, "close", may=("not_yet",))

    def _stands(self, booking: dict[str, Any]) -> bool:
        """Whether a visit to come still stands; what was only held is mostly confirmed."""
        state = self.ledger.get(PROGRAM, booking["url"])["state"]
        if state == "held" and not self.happens("forgotten"):
            path = f"/api/v1/bookings/{booking['id']}/"
            told = {"override_name": "Imke Thorsby", "override_reason": "We shim it."}
            self.ledger.act(OFFICE, path, "confirm", told, may=("hold_over", "goods_damaged"))
        return state in {"booked", "held"}

    def visit(self, work: Work, visit: str, today: date) -> None:
        """Let the program find free time for a visit and book the best; sometimes two want it."""
        known = work.booked.get(visit)
        ahead = known and datetime.fromisoformat(known["ends_at"]) > self.clock.now
        if known and ahead and self._stands(known):
            return
        first = today + timedelta(days=0 if self.quick else 1 + (visit == "install"))
        asked = {"job": work.job, "visit": visit, "hours": HOURS[visit]}
        asked |= {"first_day": first.isoformat()}
        free = self.ledger.post(PROGRAM, "/api/v1/bookings/free/", asked, key=None)
        if not free["offers"]:
            self.tally["no free time"] = self.tally.get("no free time", 0) + 1
            return
        offer = free["offers"][0]
        body = {name: offer[name] for name in ("crew", "starts_at", "ends_at")}
        body |= {"job": work.job, "visit": visit}
        answered = {}
        if free["against"]:
            answered = {"override_name": "Imke Thorsby", "override_reason": "We shim it."}
        who = (OFFICE, PROGRAM) if answered or self.chance.random() < 0.2 else (PROGRAM, OFFICE)
        held = {"hold_hours": 30} if self.happens("held") else {}
        work.booked[visit] = self.ledger.post(
            who[0], "/api/v1/bookings/", {**body, **answered, **held}
        )
        if self.happens("raced"):
            taken = ("crew_taken", "verdict_against")
            twin = self.ledger.post(who[1], "/api/v1/bookings/", body, may=taken)
            if twin is not None:
                self.ledger.breach(f"two callers got one slot: {twin['id']}")
