"""Which clock runs out when, for claims, carriers, warranty and cancellation?

Arithmetic of dates only; it is no legal advice. The day of the event is day 0 and not counted.
"""

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from fitcheck.rules.business_days import Calendar, business_days_after
from fitcheck.rules.site_time import day_text
from fitcheck.rules.sources import Source
from fitcheck.rules.tables_clocks import (
    ACKNOWLEDGE_DAYS,
    CLAIM_FLOOR_MONTHS,
    CONCEALED_DAYS,
    COOLING_OFF_DAYS,
    COOLING_OFF_LEAST_CENTS,
    NOTICE_DAYS,
    RESOLVE_DAYS,
    STATUS_DAYS,
    SUIT_FLOOR_YEARS,
)
from fitcheck.rules.tables_site import Sited

LeapDay = Literal["last_of_february", "first_of_march"]
LEAP_DAYS: tuple[LeapDay, ...] = ("last_of_february", "first_of_march")


@dataclass(frozen=True, slots=True)
class Clock:
    """One clock: what it times, from when, to the end of which day, by whom, what to do."""

    name: str
    who: str
    began: date
    ends: date
    do: str
    source: Source
    note: str = ""

    def as_json(self, today: date | None = None) -> dict[str, object]:
        """Return the clock as plain JSON, with the days left when a day is given."""
        left = None if today is None else (self.ends - today).days
        return {
            "clock": self.name,
            "who": self.who,
            "began_on": self.began.isoformat(),
            "ends_on": self.ends.isoformat(),
            "words": f"by the end of {day_text(self.ends)}",
            "days_left": left,
            "run_out": None if left is None else left < 0,
            "do": self.do,
            "note": self.note,
            "source": self.source.as_json(),
        }


def add_months(day: date, months: int) -> date:
    """Return the same day some months later, the last day of the month where it has none.

    Source: Gregorian calendar; clipping to the end of the month is the convention named.

    Args:
        day: the day [-].
        months: zero or more [-].

    Returns:
        The day [-].
    """
    year, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + year, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def add_years(day: date, years: int, leap_day: LeapDay) -> date:
    """Return the anniversary of a day; 29 February falls as the setting says.

    Source: Gregorian calendar; the setting is the firm's.

    Args:
        day: the day [-].
        years: zero or more [-].
        leap_day: "last_of_february" or "first_of_march" where the year is no leap year [-].

    Returns:
        The day [-].
    """
    clipped = add_months(day, 12 * years)
    late = clipped.day < day.day and leap_day == "first_of_march"
    return clipped + timedelta(days=late)


def claim_clocks(received: date, status_reports: int) -> list[Clock]:
    """Return what a carrier owes from the day that it received a written claim.

    Source: 49 CFR 370.5 (acknowledge in 30 days), 370.9 (pay, decline or offer in 120 days, else
    status then and every 60 days).

    Args:
        received: when the carrier received the claim [-].
        status_reports: how many later status reports to list [-].

    Returns:
        The clocks in their order [-].
    """
    acknowledge = received + timedelta(days=ACKNOWLEDGE_DAYS.value)
    resolve = received + timedelta(days=RESOLVE_DAYS.value)
    clocks = [
        _clock("carrier acknowledges", "carrier", received, acknowledge, ACKNOWLEDGE_DAYS),
        _clock("carrier pays, declines or offers", "carrier", received, resolve, RESOLVE_DAYS),
    ]
    for number in range(1, status_reports + 1):
        due = resolve + number * timedelta(days=STATUS_DAYS.value)
        clocks.append(_clock(f"carrier status {number}", "carrier", received, due, STATUS_DAYS))
    return clocks


def claim_floor(delivered: date) -> Clock:
    """Return until when a carrier must at least take claims; its own tariff may give longer.

    Source: 49 USC 14706(e)(1): not less than nine months; a floor, no limit.

    Args:
        delivered: the day of delivery [-].

    Returns:
        The clock [-].
    """
    ends = add_months(delivered, CLAIM_FLOOR_MONTHS.value)
    note = "A floor: no carrier may set less; read its terms for the true limit."
    return _clock("claim filed with the carrier", "us", delivered, ends, CLAIM_FLOOR_MONTHS, note)


def suit_floor(disallowed: date) -> Clock:
    """Return until when a carrier must at least allow a suit after a written disallowance.

    Source: 49 USC 14706(e)(1): not less than two years; a floor, no limit.

    Args:
        disallowed: the day of the written disallowance [-].

    Returns:
        The clock [-].
    """
    ends = add_years(disallowed, SUIT_FLOOR_YEARS.value, "last_of_february")
    note = "A floor: no carrier may set less; ask a lawyer long before."
    return _clock("suit against the carrier", "us", disallowed, ends, SUIT_FLOOR_YEARS, note)


def concealed_damage(delivered: date, calendar: Calendar) -> Clock:
    """Return until when damage that nobody saw at the door is to be told to the carrier.

    Source: NMFC item 300135-A: five business days; later the burden of proof shifts, which is no
    automatic bar; a call is to be confirmed in writing.

    Args:
        delivered: the day of delivery [-].
        calendar: which days are business days [-].

    Returns:
        The clock [-].
    """
    ends = business_days_after(delivered, CONCEALED_DAYS.value, calendar)
    note = f"{calendar.name}, holidays {calendar.holidays}. Later is harder to prove, not barred."
    return _clock("concealed damage told", "us", delivered, ends, CONCEALED_DAYS, note)


def cooling_off(signed: date, calendar: Calendar) -> Clock:
    """Return until which midnight a customer may cancel a sale made at home.

    Source: 16 CFR 429.0 and 429.1: midnight of the third business day after the sale; every day
    but Sundays and federal holidays counts, Saturdays too.

    Args:
        signed: the day of the sale [-].
        calendar: which days are business days [-].

    Returns:
        The clock [-].
    """
    ends = business_days_after(signed, COOLING_OFF_DAYS.value, calendar)
    note = f"{calendar.name}, holidays {calendar.holidays}."
    return _clock("customer may cancel", "customer", signed, ends, COOLING_OFF_DAYS, note)


def cooling_off_applies(price_cents: int, place: str) -> bool:
    """Return whether a sale is large enough for the cooling-off rule.

    Source: 16 CFR 429.0(a): 25 dollars at the buyer's home, 130 elsewhere but the seller's place.

    Args:
        price_cents: the price [cents].
        place: "home", "elsewhere" or "our_place" [-].

    Returns:
        True when the price reaches the rule [-].
    """
    least = COOLING_OFF_LEAST_CENTS.value.get(place)
    return least is not None and price_cents >= least


def warranty(installed: date, years: int, leap_day: LeapDay, source: Source) -> Clock:
    """Return the last day of a warranty: the anniversary of the install.

    Source: the kit's sheet for the years; the leap-day setting is the firm's.

    Args:
        installed: the day of the install [-].
        years: years that the sheet gives [-].
        leap_day: where an anniversary of 29 February falls [-].
        source: the sheet and its page [-].

    Returns:
        The clock [-].
    """
    ends = add_years(installed, years, leap_day)
    return Clock("warranty ends", "maker", installed, ends, _DO["warranty ends"], source)


def maker_claim(received: date, days: int, source: Source) -> Clock:
    """Return until when the maker wants to hear of damage, in days of the calendar.

    Source: the kit's sheet.

    Args:
        received: the day that the kit was received [-].
        days: days that the sheet gives [-].
        source: the sheet and its page [-].

    Returns:
        The clock [-].
    """
    ends = received + timedelta(days=days)
    return Clock("damage told to the maker", "us", received, ends, _DO["damage told"], source)


def notice_of_breach(found: date, days: int | None = None) -> Clock:
    """Return by when the seller is told that goods do not conform.

    Source: UCC 2-602(1), 2-607(3)(a): within a reasonable time, which names no number of days;
    the days are a house setting.

    Args:
        found: the day that the defect was found [-].
        days: the firm's own number of days, else the table's [-].

    Returns:
        The clock [-].
    """
    ends = found + timedelta(days=NOTICE_DAYS.value if days is None else days)
    note = "The code says within a reasonable time (UCC 2-602, 2-607); the days are the firm's."
    return _clock("seller told of the defect", "us", found, ends, NOTICE_DAYS, note)


def _clock(name: str, who: str, began: date, ends: date, rule: Sited[int], note: str = "") -> Clock:
    known = next((text for start, text in _DO.items() if name.startswith(start)), "")
    return Clock(name, who, began, ends, known, rule.source, note)


_DO = {
    "carrier acknowledges": "Ask the carrier for its written acknowledgement.",
    "carrier pays": "Ask the carrier for payment, refusal or a firm offer in writing.",
    "carrier status": "Ask the carrier for a written status.",
    "claim filed": "File the claim in writing: name the shipment, hold the carrier liable, ask "
    "for an amount. A note on the delivery receipt is no claim.",
    "suit": "Ask a lawyer whether to sue.",
    "concealed damage": "Tell the carrier in writing, ask for an inspection, keep the packaging.",
    "customer may cancel": "Order and cut nothing until it has passed.",
    "warranty ends": "Look the door over with the customer before it ends.",
    "damage told": "Send photos and the claim to the maker.",
    "seller told": "Tell the seller in writing what is wrong.",
}
