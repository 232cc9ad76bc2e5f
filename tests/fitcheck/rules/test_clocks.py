"""Clocks of a job: anniversaries of leap days, the maker's days, the firm's own days."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.clocks import (
    add_months,
    add_years,
    claim_clocks,
    claim_floor,
    maker_claim,
    notice_of_breach,
    warranty,
)
from fitcheck.rules.sources import Source

SHEET = Source("Installation sheet", "2026-03", "kit sheet", page="9")


@pytest.mark.parametrize(
    ("installed", "years", "leap_day", "ends"),
    [
        ("2026-06-15", 5, "last_of_february", "2031-06-15"),
        ("2028-02-29", 5, "last_of_february", "2033-02-28"),
        ("2028-02-29", 5, "first_of_march", "2033-03-01"),
        ("2028-02-29", 4, "first_of_march", "2032-02-29"),
        ("2028-02-29", 4, "last_of_february", "2032-02-29"),
        ("2027-02-28", 1, "first_of_march", "2028-02-28"),
        ("2096-02-29", 4, "last_of_february", "2100-02-28"),
    ],
)
def test_a_warranty_ends_on_its_anniversary_and_a_leap_day_as_the_setting_says(
    installed: str, years: int, leap_day: str, ends: str
) -> None:
    clock = warranty(date.fromisoformat(installed), years, leap_day, SHEET)  # type: ignore[arg-type]

    assert clock.ends == date.fromisoformat(ends)
    assert clock.began == date.fromisoformat(installed)
    assert clock.source == SHEET
    assert clock.who == "maker"


def test_the_makers_days_are_days_of_the_calendar() -> None:
    clock = maker_claim(date(2026, 12, 28), 7, SHEET)

    assert clock.ends == date(2027, 1, 4)
    assert clock.source.page == "9"
    assert clock.do == "Send photos and the claim to the maker."


def test_a_reasonable_time_is_the_firms_own_number_and_says_so() -> None:
    usual = notice_of_breach(date(2026, 3, 2))
    own = notice_of_breach(date(2026, 3, 2), 3)

    assert usual.ends == date(2026, 3, 9)
    assert own.ends == date(2026, 3, 5)
    assert usual.source.status == "house setting"
    assert "2-607" in usual.note


def test_a_clock_in_plain_json_with_the_days_left() -> None:
    clock = claim_floor(date(2026, 3, 2))

    assert clock.as_json(date(2026, 12, 1)) == {
        "clock": "claim filed with the carrier",
        "who": "us",
        "began_on": "2026-03-02",
        "ends_on": "2026-12-02",
        "words": "by the end of Wednesday 2 December 2026",
        "days_left": 1,
        "run_out": False,
        "do": "File the claim in writing: name the shipment, hold the carrier liable, ask for an "
        "amount. A note on the delivery receipt is no claim.",
        "note": "A floor: no carrier may set less; read its terms for the true limit.",
        "source": {
            "document": "49 USC 14706, Liability of carriers",
            "edition": "as quoted",
            "clause": "(e)(1)",
            "status": "published",
        },
    }
    assert clock.as_json(date(2026, 12, 2))["run_out"] is False
    assert clock.as_json(date(2026, 12, 3))["run_out"] is True
    assert clock.as_json()["days_left"] is None
    assert clock.as_json()["run_out"] is None


def test_every_clock_says_what_to_do_and_who_owes_it() -> None:
    clocks = claim_clocks(date(2026, 3, 2), 1)

    assert [clock.who for clock in clocks] == ["carrier"] * 3
    assert [clock.name for clock in clocks] == [
        "carrier acknowledges",
        "carrier pays, declines or offers",
        "carrier status 1",
    ]
    assert [clock.do for clock in clocks] == [
        "Ask the carrier for its written acknowledgement.",
        "Ask the carrier for payment, refusal or a firm offer in writing.",
        "Ask the carrier for a written status.",
    ]


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 240))
def test_months_added_land_in_the_right_month_and_never_run_over(day: date, months: int) -> None:
    later = add_months(day, months)

    assert (later.year * 12 + later.month) - (day.year * 12 + day.month) == months
    assert later.day == day.day or (later.day < day.day and later.day >= 28)


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 100))
def test_the_setting_of_leap_days_matters_on_29_february_only(day: date, years: int) -> None:
    early, late = (add_years(day, years, rule) for rule in ("last_of_february", "first_of_march"))  # type: ignore[arg-type]

    assert (late - early).days in ({0, 1} if (day.month, day.day) == (2, 29) else {0})
