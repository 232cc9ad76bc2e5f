"""How does a season go? Day by day: the office's morning, the crews' visits, the yard's evening."""

import random
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

from jobs.bookings.tasks import sweep as holds_sweep
from jobs.installs.tasks import sweep as dry_sweep
from jobs.packets.tasks import render
from jobs.reminders.tasks import sweep as reminders_sweep
from tests.season.clock import ZONE, Clock, first_day, is_working, running
from tests.season.field import Field
from tests.season.firm import ITEMS, Firm, firm_made
from tests.season.ledger import Ledger, Surprise
from tests.season.work import OFFICE, Chances, Desk, Work

SWEEPS = (dry_sweep, holds_sweep, reminders_sweep)
SHORT = 20  # a season of fewer days has goods that come the next day
MOST_PACKETS = 6
LONG_AGO = datetime(2026, 1, 1, tzinfo=UTC)


@dataclass
class Season:
    """A season that was played: who, what was counted, and what it began with."""

    seed: int
    days: int
    first: date
    clock: Clock
    firm: Firm
    desk: Desk
    field: Field
    notices_before: int
    notices_by_sweeps: int = 0
    packets: int = 0
    swept: datetime = LONG_AGO

    @property
    def ledger(self) -> Ledger:
        """Where everything is counted."""
        return self.desk.ledger

    def play(self, enquiries: float) -> None:
        """Play every day, Saturdays and Sundays too: messages are due then as well."""
        day, worked, made = self.first, 0, 0
        while worked < self.days:
            self.clock.at(day, "06:45")
            self.sweep()
            if is_working(day):
                worked += 1
                wanted = int(enquiries * worked) if worked <= self.days - 4 else 0
                self._work_day(day, range(made + 1, wanted + 1))
                made = max(made, wanted)
            self.clock.at(day, "19:15")
            self.sweep()
            day += timedelta(days=1)

    def sweep(self) -> None:
        """Let the worker's sweeps run once, and count what they tell."""
        self.swept = self.clock.now
        for one in SWEEPS:
            one()
        self.notices_by_sweeps += len(self.ledger.own_notices())

    def _work_day(self, day: date, calls: range) -> None:
        self.clock.at(day, "07:00")
        self.firm.log_in()
        for number in calls:
            self.desk.enquiry(number)
        if day.weekday() == 0 or day == self.first:
            for slug in self.firm.people:
                for item in ITEMS:
                    self.field.load(f"tablet {slug}", item, 60)
        self.desk.morning(day)
        self._change_plans(day)
        for booking in self._today(day):
            work = next(one for one in self.desk.works if one.job == booking["job"])
            start = datetime.fromisoformat(booking["starts_at"])
            if start - self.swept > timedelta(hours=1):
                self.clock.set(start)
                self.sweep()
            self.field.visit(work, booking)
        self.clock.at(day, "17:35")
        self.sweep()
        if self.desk.quick:
            self.desk.morning(day)
        self.clock.at(day, "17:40")
        self.field.arrivals(day)

    def _today(self, day: date) -> list[dict[str, Any]]:
        start = datetime.combine(day, datetime.min.time(), ZONE)
        asked = {"from": start.isoformat(), "until": (start + timedelta(days=1)).isoformat()}
        text = "&".join(f"{k}={v.replace('+', '%2B')}" for k, v in asked.items())
        path = f"/api/v1/bookings/?state=booked&limit=100&{text}"
        rows: list[dict[str, Any]] = self.ledger.get("program", path)["results"]
        return sorted(rows, key=lambda one: (datetime.fromisoformat(one["starts_at"]), one["id"]))

    def _change_plans(self, day: date) -> None:
        """Some visits to come are moved, some cancelled; for some a paper is asked and set."""
        for work in self.desk.works:
            for visit, one in list(work.booked.items()):
                if one is None or datetime.fromisoformat(one["starts_at"]) < self.clock.now:
                    continue
                if self.desk.chance.random() < 0.5:
                    self._change(work, visit, one, day)

    def _change(self, work: Work, visit: str, one: dict[str, Any], day: date) -> None:
        path = f"/api/v1/bookings/{one['id']}/"
        if self.ledger.get(OFFICE, path)["state"] != "booked":
            return
        if self.desk.happens("cancelled"):
            self.ledger.act(OFFICE, path, "cancel", {"why": "The customer is away."})
        elif self.desk.happens("moved"):
            start = datetime.fromisoformat(one["starts_at"]) + timedelta(hours=1)
            end = datetime.fromisoformat(one["ends_at"]) + timedelta(hours=1)
            told = {"starts_at": start.isoformat(), "ends_at": end.isoformat()}
            told |= {"reason": "The customer asked for an hour later."}
            may = ("crew_taken", "outside_hours", "travel_too_short")
            moved = self.ledger.act("program", path, "move", told, may=may)
            work.booked[visit] = moved or one
        elif visit != "follow_up" and self.packets < MOST_PACKETS:
            self._paper(one)

    def _paper(self, booking: dict[str, Any]) -> None:
        packet = self.ledger.post(OFFICE, "/api/v1/packets/", {"booking": booking["id"]})
        self.packets += 1
        if not render(key=int(packet["id"].split("-")[1])):
            self.ledger.breach(f"{packet['id']} was not rendered")
        self.notices_by_sweeps += len(self.ledger.own_notices())
        told = self.ledger.get(OFFICE, f"/api/v1/packets/{packet['id']}/")
        if told["state"] != "done":
            self.ledger.breach(f"{packet['id']} is {told['state']}: {told['trouble']}")


def season_played(*, seed: int, days: int, enquiries: float) -> Season:
    """Play a season in an empty database; the same seed, days and enquiries give the same season.

    Args:
        days: working days [-].
        enquiries: new jobs a working day [-].
    """
    first = first_day(days)
    clock = Clock(datetime(first.year, first.month, first.day, 5, tzinfo=UTC))
    with running(clock):
        firm = firm_made(clock.now, days)
        ledger = Ledger(firm.callers)
        desk = Desk(ledger, clock, random.Random(seed), Chances(), quick=days < SHORT)
        before = len(ledger.own_notices())
        season = Season(
            seed, days, first, clock, firm, desk, Field(desk, firm), notices_before=before
        )
        try:
            season.play(enquiries)
        except Surprise as surprise:
            ledger.breach(f"{clock.now:%Y-%m-%d %H:%M} UTC: {surprise}")
    return season
