"""Given what happened to a job and when, which deadlines follow?"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Literal
from zoneinfo import ZoneInfo

from fitcheck.rules.business_days import (
    COOLING_OFF_RULES,
    FIRST_YEAR,
    HOLIDAY_RULES,
    LAST_YEAR,
    MONDAY_TO_FRIDAY,
    MONDAY_TO_SATURDAY,
    Calendar,
)
from fitcheck.rules.clocks import (
    LEAP_DAYS,
    Clock,
    claim_clocks,
    claim_floor,
    concealed_damage,
    cooling_off,
    cooling_off_applies,
    maker_claim,
    notice_of_breach,
    suit_floor,
    warranty,
)
from fitcheck.rules.site_time import end_of_day, zone_parse
from fitcheck.rules.sources import Source
from fitcheck.rules.strict import InputError, Strict
from fitcheck.rules.tables_clocks import (
    COOLING_OFF_LEAST_CENTS,
    HOLIDAYS_WHEN_IN_DOUBT,
    LEAP_DAY,
)

_EVENTS = (
    "delivered_on",
    "damage_found_on",
    "claim_received_on",
    "claim_disallowed_on",
    "signed_on",
    "installed_on",
)
_MEMBERS = (*_EVENTS, "sale", "sheet", "settings", "today", "time_zone")
_SETTINGS = (
    "concealed_holidays",
    "cooling_off_holidays",
    "closed",
    "leap_day",
    "status_reports",
    "notice_days",
)
_SHEET = ("title", "edition", "warranty", "claim")
MOST_YEARS = 100
MOST_YEAR = LAST_YEAR - MOST_YEARS
SalePlace = Literal["home", "elsewhere", "our_place"]
Untold = tuple[str, str]
CANCEL = "customer may cancel"
_PLACES: tuple[SalePlace, ...] = ("home", "elsewhere", "our_place")


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer which clocks run, and when each runs out.

    Source: `claim_clocks`, `claim_floor`, `suit_floor`, `concealed_damage`, `cooling_off`,
    `warranty`, `maker_claim`, `notice_of_breach`.

    Args:
        inputs: days of events, sale, sheet, settings, today, time_zone [-].

    Returns:
        Clocks in order of their ends, what does not run and why, the calendars used [-].

    Raises:
        InputErrors: the inputs are malformed; one entry per mistake.
    """
    errors: list[InputError] = []
    own = Strict.open(inputs, _MEMBERS, "", errors)
    days = {name: read for name in _EVENTS if (read := day_read(own, name)) is not None}
    _refuse_wrong_order(own, days)
    today = day_read(own, "today")
    zone = _zone(own)
    settings = own.child("settings", _SETTINGS) if own.has("settings") else Strict({})
    carrier, home = _calendars(settings)
    clocks = _law_clocks(days, settings, carrier)
    untold: list[Untold] = []
    clocks += _sale_clocks(own, days, home, untold)
    sheet = own.optional("sheet", _SHEET, lambda one: one)
    clocks += _sheet_clocks(sheet, days, settings, untold) if sheet else []
    own.finish()
    clocks.sort(key=lambda clock: (clock.ends, clock.name))
    return {
        "clocks": [_clock_json(clock, today, zone) for clock in clocks],
        "not_running": [{"clock": name, "why": why} for name, why in untold],
        "calendars": {"concealed_damage": carrier.as_json(), "cooling_off": home.as_json()},
        "cautions": [
            "Dates are arithmetic, not legal advice; the carrier's terms, state law and a lawyer "
            "outrank them.",
        ],
    }


def day_read(own: Strict, name: str) -> date | None:
    """Read a day such as "2026-03-02".

    Args:
        own: the object being read [-].
        name: the member [-].

    Returns:
        The day, None when it is absent or was refused [-].
    """
    if not own.has(name):
        return None
    value = own.members[name]
    try:
        day = date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        day = None
    if day is None or day.isoformat() != value or not FIRST_YEAR < day.year < MOST_YEAR:
        hint = 'write "2026-03-02"'
        own.refuse(name, "day_not_understood", f"{name} is no day, or out of range.", hint)
        return None
    return day


def _refuse_wrong_order(own: Strict, days: dict[str, date]) -> None:
    for earlier, later in (
        ("delivered_on", "damage_found_on"),
        ("delivered_on", "claim_received_on"),
        ("claim_received_on", "claim_disallowed_on"),
    ):
        if earlier in days and later in days and days[later] < days[earlier]:
            own.refuse(later, "day_out_of_order", f"{later} lies before {earlier}.")


def _calendars(settings: Strict) -> tuple[Calendar, Calendar]:
    """Return the calendars of what we owe the carrier and of what we owe the customer.

    The firm's own closed days give the customer more time, never us.
    """
    carrier = settings.choice("concealed_holidays", HOLIDAY_RULES, "observed")
    home = settings.choice("cooling_off_holidays", COOLING_OFF_RULES, HOLIDAYS_WHEN_IN_DOUBT.value)
    closed = []
    for index, value in enumerate(settings.items("closed", most=100)):
        one = Strict({"closed": value}, f"{settings.pointer}/closed/{index}", [])
        day = day_read(one, "closed")
        if day is None:
            settings.errors.append(
                InputError(one.pointer, "day_not_understood", "A day is wanted here.")
            )
        else:
            closed.append(day)
    return (
        replace(MONDAY_TO_FRIDAY, holidays=carrier),
        replace(MONDAY_TO_SATURDAY, holidays=home, closed=tuple(closed)),
    )


def _law_clocks(days: dict[str, date], settings: Strict, carrier: Calendar) -> list[Clock]:
    reports = settings.integer("status_reports", 0, 12) if settings.has("status_reports") else 2
    notice = settings.integer("notice_days", 1, 365) if settings.has("notice_days") else None
    clocks: list[Clock] = []
    if "delivered_on" in days:
        clocks += [
            concealed_damage(days["delivered_on"], carrier),
            claim_floor(days["delivered_on"]),
        ]
    if "damage_found_on" in days:
        clocks.append(notice_of_breach(days["damage_found_on"], notice))
    if "claim_received_on" in days:
        clocks += claim_clocks(days["claim_received_on"], reports)
    if "claim_disallowed_on" in days:
        clocks.append(suit_floor(days["claim_disallowed_on"]))
    return clocks


def _sale_clocks(
    own: Strict, days: dict[str, date], home: Calendar, untold: list[Untold]
) -> list[Clock]:
    if not own.has("sale"):
        if "signed_on" in days:
            own.refuse("sale", "missing", "Say where it was sold and for how much.")
        return []
    sale = own.child("sale", ("place", "price_cents"))
    place = sale.choice("place", _PLACES)
    price = sale.integer("price_cents", 0, 10**9)
    if not cooling_off_applies(price, place):
        untold.append((CANCEL, _not_reached(place)))
        return []
    if "signed_on" not in days:
        untold.append((CANCEL, "Say when it was signed: signed_on."))
        return []
    return [cooling_off(days["signed_on"], home)]


def _not_reached(place: SalePlace) -> str:
    least = COOLING_OFF_LEAST_CENTS.value.get(place)
    if least is None:
        return "A sale at our own place has no such right by 16 CFR 429.0(a)."
    where = "at the buyer's home" if place == "home" else "away from our own place"
    return f"16 CFR 429.0(a) begins at {least // 100} dollars {where}; state law may begin lower."


def _sheet_clocks(
    sheet: Strict, days: dict[str, date], settings: Strict, untold: list[Untold]
) -> list[Clock]:
    title, edition = sheet.text("title"), sheet.text("edition")
    leap_day = settings.choice("leap_day", LEAP_DAYS, LEAP_DAY.value)
    clocks: list[Clock] = []
    if sheet.has("warranty"):
        rule = sheet.child("warranty", ("years", "page"))
        source = Source(title, edition, "kit sheet", page=rule.text("page"))
        years = rule.integer("years", 1, MOST_YEARS)
        if "installed_on" in days:
            clocks.append(warranty(days["installed_on"], years, leap_day, source))
        else:
            untold.append(("warranty ends", "Say when it was installed: installed_on."))
    if sheet.has("claim"):
        rule = sheet.child("claim", ("within_days", "page"))
        source = Source(title, edition, "kit sheet", page=rule.text("page"))
        within = rule.integer("within_days", 1, 3650)
        if "delivered_on" in days:
            clocks.append(maker_claim(days["delivered_on"], within, source))
        else:
            untold.append(("damage told to the maker", "Say when it came: delivered_on."))
    return clocks


def _zone(own: Strict) -> ZoneInfo | None:
    if not own.has("time_zone"):
        return None
    try:
        return zone_parse(own.text("time_zone"))
    except ValueError as error:
        own.refuse("time_zone", "time_zone_unknown", str(error))
        return None


def _clock_json(clock: Clock, today: date | None, zone: ZoneInfo | None) -> dict[str, object]:
    ends_at = end_of_day(clock.ends, zone).isoformat() if zone else None
    return {**clock.as_json(today), "ends_at": ends_at}
