"""What changes about rules? Each in one transaction with its notice."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.notices.services import notice_record, row_change
from jobs.reminders.models import Rule


@transaction.atomic
def rule_create(*, by: Caller, **values: Any) -> Rule:
    """Add a rule; it hears what happens from now on; announces `reminder_rule.added`."""
    rule = Rule.objects.create(**values)
    notice_record(by=by, type="reminder_rule.added", about=rule.number)
    return rule


@transaction.atomic
def rule_change(*, by: Caller, rule: Rule, reason: str = "", **values: Any) -> Rule:
    """Change a rule; messages already planned keep their time; announces `reminder_rule.changed`."""
    return row_change(row=rule, by=by, type="reminder_rule.changed", values=values, reason=reason)
