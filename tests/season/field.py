"""What does a crew do on a day: surveys, deliveries, installs past every hold point, handovers?"""

import json
import random
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from uuid_utils.compat import uuid7

from fitcheck.rules.length import length_parse
from tests.season.bathroom import FINE, Bathroom, off_by, text
from tests.season.firm import Firm
from tests.season.ledger import Ledger
from tests.season.work import OFFICE, Desk, Work

MOST_TRIES = 5


@dataclass
class Mark:
    """A mark as the season knows it: where it was released, and what the truth was [mm]."""

    key: str
    part: str
    true_mm: float
    deduct: str
    allowance: str


@dataclass
class Field:
    """Three crews with tablets."""

    desk: Desk
    firm: Firm
    marks: list[Mark] = field(default_factory=list)
    readings: dict[str, str] = field(default_factory=dict)
    facts: dict[str, str] = field(default_factory=dict)
    loaded: dict[tuple[str, str], int] = field(default_factory=dict)

    @property
    def ledger(self) -> Ledger:
        """Where everything is counted."""
        return self.desk.ledger

    @property
    def chance(self) -> random.Random:
        """The one source of chance."""
        return self.desk.chance

    def now(self, minutes: int = 0) -> str:
        """The present moment, or one some minutes later, on which the clock then stands."""
        self.desk.clock.set(self.desk.clock.now + timedelta(minutes=minutes))
        return self.desk.clock.now.isoformat()

    def put(self, who: str, noun: str, body: dict[str, Any]) -> Any:
        """Put a fact under a new id, sometimes twice, because the reply was lost."""
        path = f"/api/v1/{noun}/{uuid7()}/"
        told = self.ledger.put(who, path, body)
        rows = [*body.get("readings", []), *body.get("as_fixed", [])]
        self.facts |= {f"{told['id']} {n}": plain(one) for n, one in enumerate(rows)}
        if self.desk.happens("repeated"):
            self.ledger.put(who, path, body, again=True)
        return told

    def visit(self, work: Work, booking: dict[str, Any]) -> None:
        """Go to one visit of today, unless it comes to nothing."""
        path, who = f"/api/v1/bookings/{booking['id']}/", f"tablet {booking['crew']}"
        self.desk.clock.set(datetime.fromisoformat(booking["starts_at"]))
        if self.ledger.get(who, path)["state"] != "booked":
            return
        if self.desk.happens("no_show"):
            self.now(20)
            self.ledger.act(who, path, "no_show", {"why": "Nobody opened."})
        elif booking["visit"] == "survey":
            self.survey(work, who)
        elif booking["visit"] == "install":
            self.install(work, who, booking)

    def survey(self, work: Work, who: str) -> None:
        """Read the opening; a burned inch is sometimes seen on the spot and read again."""
        burned = self.desk.happens("burned")
        told = self._survey(work, who, burned=burned)
        if burned and told["verdict"]["state"] != "fits" and self.desk.happens("seen_on_the_spot"):
            self._survey(work, who, burned=False, supersedes=work.surveys[-1])

    def _survey(self, work: Work, who: str, *, burned: bool, supersedes: str = "") -> Any:
        lead = self.firm.people[who.split()[1]][0]
        when = self.now(25)
        body = work.bath.survey(work.opening, lead, when, self.chance, burned=burned)
        previous = supersedes or (work.surveys[-1] if work.surveys else "")
        if previous:
            body["supersedes"] = previous
        self.readings |= {row["id"]: plain(row) for row in body["readings"]}
        told = self.ledger.post(who, "/api/v1/surveys/", body, key=None)
        if self.desk.happens("repeated"):
            self.ledger.post(who, "/api/v1/surveys/", body, key=None, again=True)
        work.surveys.append(body["id"])
        return told

    def arrivals(self, today: date) -> None:
        """Take in what is due today, and look every piece over."""
        for work in self.desk.works:
            if work.order and work.due and work.due <= today:
                order, work.order = work.order, None
                work.here += self.arrive(order)
            elif work.here and self.desk.happens("knocked"):
                self.knock_over(work)

    def arrive(self, order: dict[str, Any]) -> list[dict[str, Any]]:
        """One delivery: mostly sound; else a piece is damaged or one is short, with a photo."""
        who = f"tablet {self.chance.choice(sorted(self.firm.people))}"
        when, amiss = self.now(10), self.desk.happens("amiss")
        bad = self.chance.choice(order["lines"])["id"] if amiss else ""
        how = self.chance.choice(["damaged", "short"])
        self.ledger.upload(
            who, f"/api/v1/photos/{self.firm.photo[0]}/", self.firm.photo[1], "image/jpeg"
        )
        looked = [
            {
                "id": str(uuid7()),
                "line": one["id"],
                "condition": how if one["id"] == bad else "sound",
                "count": one["count"],
                "photos": [self.firm.photo[0]],
                "inspected_at": when,
            }
            for one in order["lines"]
        ]
        body = {"order": order["id"], "carrier": "Bramblewick Freight (invented)"}
        body |= {"arrived_at": when, "packaging": "damaged" if amiss else "sound"}
        came = self.put(who, "arrivals", {**body, "inspections": looked})
        return [one for one in came["inspections"] if one["condition"] == "sound"]

    def knock_over(self, work: Work) -> None:
        """In the yard a sound piece is knocked over; its look is taken again, the visit called off."""
        job = self.ledger.get(OFFICE, work.path)
        if job["state"] not in {"received", "booked"}:
            work.here = []
            return
        one = work.here.pop()
        names = ("delivery", "line", "count")
        body = {**{name: one[name] for name in names}, "condition": "damaged"}
        body |= {
            "replaces": [one["id"]],
            "photos": [self.firm.photo[0]],
            "inspected_at": self.now(5),
        }
        who = f"tablet {self.chance.choice(sorted(self.firm.people))}"
        self.put(who, "inspections", body)
        booking = work.booked.get("install")
        if booking and self.ledger.get(OFFICE, booking["url"])["state"] in {"booked", "held"}:
            path = f"/api/v1/bookings/{booking['id']}/"
            self.ledger.act(OFFICE, path, "cancel", {"why": "A piece must come anew."})

    def install(self, work: Work, who: str, booking: dict[str, Any]) -> None:
        """Go through the hold points in order, then hand over."""
        told = {"booking": booking["id"], "opening": work.opening, "started_at": self.now(5)}
        install = self.put(who, "installs", told)
        work.here = []
        if self.desk.happens("broken"):
            self.break_off(who, install)
            return
        for stop in install["stops"]:
            self.now(8)
            kinds = {one["kind"] for one in stop["needs"]}
            if "mark" in kinds:
                self.saw(work.bath, who, install, stop)
            elif "handover" in kinds:
                self.hand_over(who, install)
            else:
                self.record(work.bath, who, install, stop)
        self.put(
            who,
            "install-records",
            {"install": install["id"], "kind": "finish", "taken_at": self.now(5)},
        )
        self.use(who, install)
        seen = self.ledger.get(who, f"/api/v1/installs/{install['id']}/")
        if seen["finished_at"] is None:
            wanting = [one["key"] for one in seen["stops"] if one["state"] != "done"]
            self.ledger.breach(f"{install['id']} was left unfinished at {wanting}: {seen['next']}")

    def break_off(self, who: str, install: Any) -> None:
        """A panel is found broken when it is unwrapped: it is told, the office orders it anew."""
        body = {"install": install["id"], "kind": "stop", "stop": install["stops"][0]["key"]}
        body |= {"taken_at": self.now(8), "found": "not_right", "piece": "inner panel"}
        body |= {"note": "A corner is gone.", "photos": [self.firm.photo[0]], "cause": "transit"}
        told = self.put(who, "install-records", body)
        if told["state"] != "held" or not told["claim"]:
            self.ledger.breach(f"{install['id']}: broken glass was {told['state']}")

    def record(self, bath: Bathroom, who: str, install: Any, stop: Any) -> None:
        """Record one stop; what is held is read again, at last passed by the lead."""
        for _ in range(MOST_TRIES):
            told = self.put(who, "install-records", self._body(bath, who, install, stop))
            if told["state"] == "done":
                return
            self.desk.tally["stop held"] = self.desk.tally.get("stop held", 0) + 1
        body = {"install": install["id"], "kind": "skip", "stop": stop["key"]}
        body |= {"taken_at": self.now(1), "reason": "Read five times; I answer for it."}
        self.put(who, "install-records", body)

    def _body(self, bath: Bathroom, who: str, install: Any, stop: Any) -> dict[str, Any]:
        lead, helper, *_ = self.firm.people[who.split()[1]]
        needs = stop["needs"]
        body: dict[str, Any] = {
            "install": install["id"],
            "kind": "stop",
            "stop": stop["key"],
            "taken_at": self.now(1),
            "said_by": lead,
            "second_person": helper,
            "typed_why": "Their phone is in the van.",
            "yes": [one["name"] for one in needs if one["kind"] == "yes"],
            "photos": [self.firm.photo[0]],
            "readings": [
                {
                    **{name: one[name] for name in ("quantity", "side", "height")},
                    "value": self._read(bath, one),
                    "tool": FINE,
                }
                for one in needs
                if one["kind"] == "reading"
            ],
            "values": [
                {"name": one["name"], "value": "1/8 in", "tool": FINE}
                for one in needs
                if one["kind"] == "value"
            ],
        }
        if any(one["kind"] == "result" for one in needs):
            body["result"] = "after_cure"
        return body

    def _read(self, bath: Bathroom, need: dict[str, Any]) -> str:
        if need["quantity"] in {"width", "between_brackets"}:
            return text(bath.read_fine(need["quantity"], need["height"], self.chance))
        own = (need["quantity"], need["side"])
        rows = [one for one in bath.rows if (one["quantity"], one["side"]) == own]
        at = length_parse(need["height"]).nm
        return str(min(rows, key=lambda one: abs(length_parse(one["height"]).nm - at))["value"])

    def saw(self, bath: Bathroom, who: str, install: Any, stop: Any) -> None:
        """Two people read for one cut, sometimes one of them wrongly; held is read again."""
        part = next(one["part"] for one in stop["needs"] if one["kind"] == "mark")
        cut = CUTS[part]
        for _ in range(MOST_TRIES):
            nm = [bath.read_fine(cut["from"], cut["height"], self.chance) for _ in range(2)]
            misread = self.desk.happens("misread")
            if misread:
                nm[0] = off_by(nm[0], self.chance.choice(["inch", "eighth"]))
            rows = [
                {"value": text(one), "read_by": name, "tool": FINE}
                for one, name in zip(nm, self.firm.people[who.split()[1]], strict=False)
            ]
            body = {"install": install["id"], "part": part, "taken_at": self.now(1)}
            body["typed_why"] = "Their phone is in the van."
            told = self.put(who, "marks", {**body, "as_fixed": rows})
            if told["state"] == "released":
                true = bath.true_mm(cut["from"], cut["height"])
                own = {name: cut[name] for name in ("deduct", "allowance")}
                self.marks.append(Mark(told["id"], part, true, **own))
                return
            if not misread:
                self.desk.tally["held, read right"] = self.desk.tally.get("held, read right", 0) + 1
        self.desk.tally["cut skipped"] = self.desk.tally.get("cut skipped", 0) + 1
        body = {"install": install["id"], "kind": "skip", "stop": stop["key"]}
        body |= {"taken_at": self.now(1), "reason": "Cut at home from a template."}
        self.put(who, "install-records", body)

    def hand_over(self, who: str, install: Any) -> None:
        """Show the label, give the care sheet; signed, or with the reason why not."""
        body = {"install": install["id"], "person": "Invented Owner", "taken_at": self.now(5)}
        body |= {"label_shown": True, "care_sheet_given": True, "tempered_told": True}
        if self.desk.happens("unsigned"):
            body["unsigned_why"] = "Nobody at home when we left."
        else:
            digest, data = self.firm.signature
            self.ledger.upload(who, f"/api/v1/signatures/{digest}/", data, "image/png")
            body["signature"] = digest
        self.put(who, "handovers", body)

    def load(self, who: str, item: str, amount: int) -> None:
        """Load the van."""
        self.move(who, item, "loaded", amount)

    def use(self, who: str, install: Any) -> None:
        """Write down what went into the walls."""
        for item, most in (("screw", 12), ("anchor", 6), ("sealant", 2)):
            self.move(who, item, "used", self.chance.randint(1, most), install["id"])

    def move(self, who: str, item: str, move: str, amount: int, install: str = "") -> None:
        """One movement of the van's stock."""
        crew = who.split()[1]
        body = {"crew": crew, "item": item, "move": move, "amount": amount, "taken_at": self.now(1)}
        self.put(who, "stock-movements", {**body, **({"install": install} if install else {})})
        sign = 1 if move == "loaded" else -1
        self.loaded[crew, item] = self.loaded.get((crew, item), 0) + sign * amount


def plain(row: dict[str, Any]) -> str:
    """Write what a person read in one way: value, tool, place."""
    names = ("quantity", "side", "height", "over", "value", "tool", "read_by", "taken_at")
    return json.dumps({name: row[name] for name in names if row.get(name)}, sort_keys=True)


CUTS = {
    "head rail": {
        "from": "between_brackets",
        "height": "71 1/4 in",
        "deduct": "5/16 in",
        "allowance": "3/16 in",
    },
    "threshold strip": {
        "from": "width",
        "height": "0 in",
        "deduct": "11/16 in",
        "allowance": "1/4 in",
    },
}
