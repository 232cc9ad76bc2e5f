"""Which rules does a new installation start with? House settings; the office edits them."""

from jobs.reminders.presets_customers import TO_CUSTOMERS
from jobs.reminders.presets_staff import TO_STAFF

PRESETS = [*TO_CUSTOMERS, *TO_STAFF]
