"""Which messages come of what happened? Notices are read once each, in order, by whoever holds the place.

The place in the feed is one locked row: of two schedulers one waits and then finds nothing left. A
message is unique by rule, row and occasion, so that hearing twice would change nothing either.
"""

import logging
from typing import Any

from django.db import transaction
from django.db.models import Q

from contractor.notices.feed import settled_after
from contractor.notices.models import Notice
from jobs.reminders.choices import Same, State
from jobs.reminders.models import Heard, Reminder, Rule
from jobs.reminders.planning import message_plan
from jobs.reminders.subjects import Subject, subject_heard
from jobs.reminders.telling import messages_drop

log = logging.getLogger(__name__)
BATCH = 200
PLACE = "rules"
WAITING = (State.DUE.value, State.SNOOZED.value)


def notices_hear() -> int:
    """Read the next notices and plan or cancel what the rules say; returns how many were read."""
    with transaction.atomic():
        place = Heard.objects.select_for_update().get_or_create(name=PLACE)[0]
        notices = list(settled_after(place.position)[:BATCH])
        if not notices:
            return 0
        rules = list(Rule.objects.filter(is_on=True))
        for notice in notices:
            _hear_one(place, rules, notice)
        place.position = notices[-1].pk
        place.save(update_fields=["position", "trouble"])
    return len(notices)


def _hear_one(place: Heard, rules: list[Rule], notice: Notice) -> None:
    """Hear one notice; one that breaks a rule is told of and holds up no other."""
    names = names_of(notice)
    listening = [one for one in rules if names & {*one.hears, *one.unless}]
    if not listening:
        return
    try:
        with transaction.atomic():
            subject = subject_heard(notice)
            for rule in listening if subject else ():
                assert subject is not None  # noqa: S101
                rule_hear(rule, notice, subject)
    except Exception as error:
        log.exception("Notice %s was not understood", notice.pk)
        place.trouble = f"{notice.type} {notice.about} was not understood: {error}"[:300]


def names_of(notice: Notice) -> set[str]:
    """Name what happened: the notice's type and, when a row went on, by the state that it has now."""
    state = notice.changes.get("state") if isinstance(notice.changes, dict) else None
    went_on = notice.type.endswith(".moved") and isinstance(state, list) and len(state) == 2
    return {notice.type, f"{notice.noun}.{state[1]}"} if went_on and state else {notice.type}


def rule_hear(rule: Rule, notice: Notice, subject: Subject) -> None:
    """Let one rule hear one notice: drop what it makes needless, plan what it asks for."""
    names = names_of(notice)
    if names & set(rule.unless):
        messages_drop(_same(rule, subject), f"{notice.type} of {notice.about}", notice.pk)
    if names & set(rule.hears):
        message_plan(rule, notice, subject)


def _same(rule: Rule, subject: Subject) -> Any:
    rows = Reminder.objects.filter(rule=rule)
    if rule.same == Same.ABOUT or (rule.same == Same.BOOKING and subject.booking is None):
        return rows.filter(about=subject.about)
    if rule.same == Same.BOOKING:
        return rows.filter(booking=subject.booking)
    own = rows.filter(job=subject.job)
    # A visit that falls away says nothing of another visit of the same job.
    return own.filter(Q(booking=subject.booking) | Q(booking=None)) if subject.booking else own
