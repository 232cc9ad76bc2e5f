"""What must hold of the whole database after a season? One small function for each."""

import hashlib
import json
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import pairwise
from typing import Any

from django.core import mail

from contractor.notices.models import Notice
from contractor.people.models import Crew
from fitcheck.rules.length import length_parse
from jobs.bookings.models import STANDING, Booking
from jobs.bookings.models import State as BookingState
from jobs.claims.models import Claim
from jobs.installs.models import Install, Mark, Record
from jobs.jobs.life import job_steps
from jobs.jobs.models import Job, State
from jobs.jobs.moves import FORWARD, MOVES
from jobs.receiving.models import Delivery, Inspection
from jobs.reminders.models import Heard, Reminder
from jobs.stock.models import Movement, VanItem
from jobs.surveys.models import Reading
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_replay
from tests.season.bathroom import mm
from tests.season.clock import running
from tests.season.field import plain
from tests.season.season import Season

NM_PER_MM = 1_000_000
ENDS = {State.CLOSED.value, State.CANCELLED.value}
PROMISED = ("booking.made", "booking.confirmed")
Breaches = Iterator[str]


def breaches_of(season: Season) -> list[str]:
    """Ask every invariant; an empty list is a good season."""
    found = list(season.ledger.breaches)
    for ask in INVARIANTS:
        found += broken(season, ask)
    return found


def broken(season: Season, ask: "Callable[[Season], Breaches]") -> list[str]:
    """Ask one invariant by the season's clock."""
    with running(season.clock):
        return [f"{ask.__name__}: {one}" for one in ask(season)]


def no_two_visits_of_a_crew_overlap(season: Season) -> Breaches:
    """Of what stands, and of what was a no-show: the crew was there too."""
    there = (*STANDING, BookingState.NO_SHOW.value)
    for crew in Crew.objects.all():
        rows = Booking.objects.filter(crew=crew, state__in=there).order_by("starts_at")
        for one, other in pairwise(rows):
            if other.starts_at < one.ends_at:
                yield f"{one.number} and {other.number} of {crew.slug}"


def every_state_is_reached_by_moves_that_exist(season: Season) -> Breaches:
    """From enquiry on, each notice of a move leads from where the one before had led."""
    may = {(start, str(move.to.value)) for (start, _), move in MOVES.items()}
    for job in Job.objects.all():
        at = State.ENQUIRY.value
        rows = Notice.objects.filter(noun="job", about=job.number, type="job.moved")
        for notice in rows.order_by("pk"):
            old, new = notice.changes["state"]
            if old != at or (old, new) not in {(str(a), b) for a, b in may}:
                yield f"{job.number} went from {old} to {new}, having been {at}"
            at = new
        if at != job.state:
            yield f"{job.number} is {job.state}, its notices lead to {at}"


def every_write_is_in_the_history_once(season: Season) -> Breaches:
    """Notices are those of the setting up, of the requests and of the sweeps; no other, none missing."""
    told = season.notices_before + season.ledger.notices + season.notices_by_sweeps
    stored = Notice.objects.count()
    if told != stored:
        yield f"{stored} notices are stored, {told} were counted as they came"


def every_reading_is_stored_as_it_was_sent(season: Season) -> Breaches:
    """No reading was lost, none changed, none made up."""
    stored = {str(one.id): plain(one.as_input()) for one in Reading.objects.all()}
    yield from _differences("surveys", season.field.readings, stored)
    facts = {}
    for row in (*Record.objects.all(), *Mark.objects.all()):
        rows = [*row.body.get("readings", []), *row.body.get("as_fixed", [])]
        facts |= {f"{row.pk} {n}": _as_sent(one) for n, one in enumerate(rows)}
    sent = {key: _as_sent(json.loads(told)) for key, told in season.field.facts.items()}
    yield from _differences("installs", sent, facts)


def _as_sent(row: dict[str, Any]) -> str:
    """Without what the service fills in when the tablet does not say it."""
    return plain({name: one for name, one in row.items() if name not in {"taken_at", "read_by"}})


def _differences(where: str, sent: dict[str, str], stored: dict[str, str]) -> Breaches:
    if len(stored) != len(sent) or _digest(stored) != _digest(sent):
        wrong = [key for key in {*sent, *stored} if sent.get(key) != stored.get(key)]
        told = [(sent.get(one), stored.get(one)) for one in wrong[:2]]
        yield f"{where}: {len(sent)} were sent, {len(stored)} are stored, differing: {told}"


def _digest(rows: dict[str, str]) -> str:
    text = "\n".join(f"{key} {told}" for key, told in sorted(rows.items()))
    return hashlib.sha256(text.encode()).hexdigest()


def every_verdict_comes_out_again(season: Season) -> Breaches:
    """Each kept verdict, worked out again from its kept inputs, is the same in every member."""
    for verdict in Verdict.objects.select_related("sheet__kit"):
        if differs := verdict_replay(verdict=verdict):
            yield f"{verdict.pk} differs in {differs}"


def no_wrong_mark_was_released(season: Season) -> Breaches:
    """A released mark is no longer than the true distance, and no shorter than what the parts hide."""
    released = {str(one.pk): one.length for one in Mark.objects.filter(state="released")}
    if sorted(released) != sorted(one.key for one in season.field.marks):
        yield f"{len(released)} marks are released, {len(season.field.marks)} were answered so"
    for one in season.field.marks:
        length = length_parse(released[one.key]).nm / NM_PER_MM
        least = one.true_mm - mm(one.deduct) - mm(one.allowance)
        if not least <= length <= one.true_mm:
            yield f"{one.part} {length:.2f} mm, true {one.true_mm:.2f} mm, least {least:.2f} mm"


def no_install_was_booked_over_damage(season: Season) -> Breaches:
    """When an install was booked, every piece found amiss so far had come anew."""
    looked = Inspection.objects.select_related("line__order")
    for notice in Notice.objects.filter(type__in=PROMISED).order_by("pk"):
        booking = Booking.objects.get(pk=int(notice.about.split("-")[1]))
        if booking.visit != "install":
            continue
        rows = looked.filter(line__order__job=booking.job_id, received_at__lt=notice.at)
        gone = {one for row in rows for one in row.replaces}
        good, wanted = Counter[int](), dict[int, int]()
        for row in rows:
            first = row.line.remakes or row.line
            wanted[first.pk] = first.count
            good[first.pk] += row.count * (row.condition == "sound" and str(row.pk) not in gone)
        for key, count in wanted.items():
            if good[key] < count:
                yield f"{booking.number} was promised while G-{key:04d} was amiss"


def every_damage_has_a_claim_with_a_clock(season: Season) -> Breaches:
    """Each delivery with a piece amiss has a claim with evidence, whose clocks run or were ended."""
    amiss = Inspection.objects.exclude(condition="sound").values_list("delivery_id", flat=True)
    for delivery in Delivery.objects.filter(pk__in=set(amiss)):
        claims = Claim.objects.filter(delivery=delivery)
        if not claims:
            yield f"delivery {delivery.pk} has none"
        for claim in claims:
            if not claim.deadlines.exists():
                yield f"{claim.number} has no clock"
            if not claim.evidence.exists():
                yield f"{claim.number} has no evidence"


def every_message_is_accounted_for(season: Season) -> Breaches:
    """Sent, cancelled with its reason, or not yet due; what is late was told as late."""
    last = season.clock.now - timedelta(minutes=1)
    for row in Reminder.objects.exclude(state="sent"):
        waits = row.state in {"due", "snoozed"} and row.due_at > last
        if not waits and not (row.state == "cancelled" and row.trouble):
            yield f"{row.number} of {row.about} is {row.state}, due {row.due_at}: {row.trouble}"
    for heard in Heard.objects.exclude(trouble=""):
        yield f"a notice was not understood: {heard.trouble}"


def no_message_went_out_twice(season: Season) -> Breaches:
    """The mails that left are those that are marked as sent, each once."""
    gone = Counter(str(one.extra_headers.get("Message-ID")) for one in mail.outbox)
    twice = [one for one, count in gone.items() if count > 1]
    if twice:
        yield f"{len(twice)} went out twice, such as {twice[0]}"
    marked = set(Reminder.objects.filter(state="sent").values_list("message_id", flat=True))
    if marked != set(gone):
        yield f"{len(gone)} mails left, {len(marked)} are marked as sent"


def vans_hold_what_was_loaded_less_what_was_used(season: Season) -> Breaches:
    """By the season's own sums, by the movements, and by what the vans' rows say."""
    sums: Counter[tuple[str, str]] = Counter()
    for row in Movement.objects.select_related("crew", "item"):
        sums[row.crew.slug, row.item.slug] += row.amount if row.move == "loaded" else -row.amount
    held = {
        (one.crew.slug, one.item.slug): one.on_hand - one.short
        for one in VanItem.objects.select_related("crew", "item")
    }
    for key, amount in season.field.loaded.items():
        if not amount == sums[key] == held.get(key):
            yield f"{key}: {amount} by hand, {sums[key]} by movements, {held.get(key)} in the van"


def every_cure_was_waited_for(season: Season) -> Breaches:
    """No job is called cured before the last bead of its openings had its time."""
    for notice in Notice.objects.filter(type="job.moved", changes__state__1="cured"):
        rows = Install.objects.filter(booking__job_id=int(notice.about.split("-")[1]))
        last = {one.opening_id: one for one in rows.order_by("received_at")}  # not one broken off
        for one in last.values():
            if one.cured_at is None or notice.at < one.cured_at:
                yield f"{notice.about} was called cured at {notice.at}, it cures until {one.cured_at}"


def no_job_is_stuck(season: Season) -> Breaches:
    """Every job that is not at its end says what is next, and what would let it go on."""
    for job in Job.objects.exclude(state__in=ENDS):
        steps = job_steps(job=job)
        if sum((job.state, one.action) in FORWARD for one in steps) != 1:
            yield f"{job.number} is {job.state} and has no one next step"
        for one in steps:
            if any(not block.why or not block.hint for block in one.blocks):
                yield f"{job.number}: {one.action} is blocked without saying why"


INVARIANTS: tuple[Callable[[Season], Breaches], ...] = (
    no_two_visits_of_a_crew_overlap,
    every_state_is_reached_by_moves_that_exist,
    every_write_is_in_the_history_once,
    every_reading_is_stored_as_it_was_sent,
    every_verdict_comes_out_again,
    no_wrong_mark_was_released,
    no_install_was_booked_over_damage,
    every_damage_has_a_claim_with_a_clock,
    every_message_is_accounted_for,
    no_message_went_out_twice,
    vans_hold_what_was_loaded_less_what_was_used,
    every_cure_was_waited_for,
    no_job_is_stuck,
)
