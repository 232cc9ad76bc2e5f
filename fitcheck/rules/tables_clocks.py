"""Which days count, how long does each clock run, and who says so?"""

from fitcheck.rules.tables_site import Sited, house


def _law(document: str, clause: str, value: int, unit: str) -> Sited[int]:
    return Sited(value, unit, document, clause, "published")


FIXED_HOLIDAYS = Sited(
    {
        "New Year's Day": (1, 1, 1986),
        "Juneteenth": (6, 19, 2021),
        "Independence Day": (7, 4, 1986),
        "Veterans Day": (11, 11, 1986),
        "Christmas Day": (12, 25, 1986),
    },
    "month, day, since",
    "usc6103",
    "(a)",
    "from memory",
)
WEEKDAY_HOLIDAYS = Sited(
    {
        "Martin Luther King Jr. Day": (1, 0, 3),
        "Washington's Birthday": (2, 0, 3),
        "Memorial Day": (5, 0, -1),
        "Labor Day": (9, 0, 1),
        "Columbus Day": (10, 0, 2),
        "Thanksgiving Day": (11, 3, 4),
    },
    "month, weekday from Monday as 0, which of them (-1 the last)",
    "usc6103",
    "(a)",
    "from memory",
)
OBSERVED = Sited(
    {5: -1, 6: 1}, "weekday of the date: days to the day observed", "usc6103", "(b)", "from memory"
)

ACKNOWLEDGE_DAYS = _law("cfr370", "370.5", 30, "days")
RESOLVE_DAYS = Sited(120, "days", "cfr370", "370.9(a)", "published")
STATUS_DAYS = Sited(60, "days", "cfr370", "370.9(b)", "published")
CLAIM_FLOOR_MONTHS = _law("usc14706", "(e)(1)", 9, "months")
SUIT_FLOOR_YEARS = _law("usc14706", "(e)(1)", 2, "years")
CONCEALED_DAYS = _law("nmfc", "300135-A", 5, "business days")
COOLING_OFF_DAYS = _law("cfr429", "429.1", 3, "business days")
COOLING_OFF_LEAST_CENTS = Sited(
    {"home": 2500, "elsewhere": 13000}, "cents", "cfr429", "429.0(a)", "published"
)
NOTICE_DAYS = house(7, "days; the code only says within a reasonable time")
LEAP_DAY = house("last_of_february", "where 29 February has no anniversary")
HOLIDAYS_WHEN_IN_DOUBT = house("observed_too", "cooling-off: never shortens the buyer's time")
