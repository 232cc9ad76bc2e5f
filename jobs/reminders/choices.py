"""What may a rule say, and where may a message stand? The choices in words."""

from django.db import models


class From(models.TextChoices):
    """What the time of a message is counted from."""

    NOTICE = "notice", "The moment it happened"
    VISIT_START = "visit_start", "The start of the visit"
    VISIT_END = "visit_end", "The end of the visit"
    CURE_END = "cure_end", "The end of the cure"
    CLAIM_DEADLINE = "claim_deadline", "The nearest deadline of the claim"
    GOODS_PROMISED = "goods_promised", "The day for which the goods are promised"
    COST_MISSING = "cost_missing", "The day of an error whose cost nobody has written"
    OUTDATED = "outdated", "The moment when readings outran their verdict"
    EACH_MORNING = "each_morning", "Every morning, by the firm's clock"


class Sense(models.TextChoices):
    """Until when the message is worth sending."""

    ALWAYS = "always", "However late"
    VISIT_START = "visit_start", "Until the visit starts"
    VISIT_END = "visit_end", "Until the visit is over"
    DAY_END = "day_end", "Until the end of its day"


class Same(models.TextChoices):
    """What must be the same for another happening to make the message needless."""

    ABOUT = "about", "The same row"
    BOOKING = "booking", "The same visit"
    JOB = "job", "The same job"


class Whom(models.TextChoices):
    """Who is told."""

    CUSTOMER = "customer", "The customer"
    OFFICE = "office", "The office's mailbox"
    CREW_LEAD = "crew_lead", "The lead of the visit's crew"
    MEASURER = "measurer", "Who measured last"
    EACH_OFFICE = "each_office", "Everybody in the office who wants it"


class Channel(models.TextChoices):
    """By which way."""

    PREFERRED = "preferred", "As the customer prefers"
    EMAIL = "email", "Mail"
    TEXT = "text", "Text message"
    LOG = "log", "Only a line in the service's log"


class State(models.TextChoices):
    """Where a reminder stands."""

    DUE = "due", "Waits for its time"
    SNOOZED = "snoozed", "Put off"
    SENDING = "sending", "A worker has it"
    SENT = "sent", "Sent"
    LATE = "late", "Its time passed while nobody could send; somebody has to look"
    FAILED = "failed", "Given up; the reason is told"
    CANCELLED = "cancelled", "No longer wanted"


OPEN = (State.DUE.value, State.SNOOZED.value, State.SENDING.value, State.LATE.value)
