"""Which clocks follow from what happened to a job, asked through one door."""

from copy import deepcopy
from typing import Any

import pytest

from fitcheck.rules.deadlines import answer
from fitcheck.rules.strict import InputErrors

BODY: dict[str, Any] = {
    "delivered_on": "2026-03-02",
    "damage_found_on": "2026-03-03",
    "claim_received_on": "2026-03-10",
    "claim_disallowed_on": "2026-05-01",
    "signed_on": "2026-02-02",
    "installed_on": "2028-02-29",
    "sale": {"place": "home", "price_cents": 185000},
    "sheet": {
        "title": "Installation sheet",
        "edition": "2026-03",
        "warranty": {"years": 5, "page": "9"},
        "claim": {"within_days": 7, "page": "10"},
    },
    "today": "2026-03-05",
    "time_zone": "America/New_York",
}


def ends(body: dict[str, Any]) -> dict[str, str]:
    got: Any = answer(body)
    return {clock["clock"]: clock["ends_on"] for clock in got["clocks"]}


def test_every_clock_of_a_job_in_the_order_of_its_ends() -> None:
    assert list(ends(BODY).items()) == [
        ("customer may cancel", "2026-02-05"),
        ("concealed damage told", "2026-03-09"),
        ("damage told to the maker", "2026-03-09"),
        ("seller told of the defect", "2026-03-10"),
        ("carrier acknowledges", "2026-04-09"),
        ("carrier pays, declines or offers", "2026-07-08"),
        ("carrier status 1", "2026-09-06"),
        ("carrier status 2", "2026-11-05"),
        ("claim filed with the carrier", "2026-12-02"),
        ("suit against the carrier", "2028-05-01"),
        ("warranty ends", "2033-02-28"),
    ]


def test_days_left_and_the_midnight_on_site() -> None:
    got: Any = answer(BODY)
    clocks = {clock["clock"]: clock for clock in got["clocks"]}

    assert clocks["concealed damage told"]["days_left"] == 4
    assert clocks["concealed damage told"]["ends_at"] == "2026-03-10T00:00:00-04:00"
    assert clocks["customer may cancel"]["run_out"] is True
    assert clocks["customer may cancel"]["ends_at"] == "2026-02-06T00:00:00-05:00"
    assert "not legal advice" in got["cautions"][0]


def test_without_a_zone_and_a_day_there_is_no_moment_and_no_countdown() -> None:
    got: Any = answer({"delivered_on": "2026-03-02"})

    assert [clock["clock"] for clock in got["clocks"]] == [
        "concealed damage told",
        "claim filed with the carrier",
    ]
    assert got["clocks"][0]["ends_at"] is None
    assert got["clocks"][0]["days_left"] is None


def test_the_settings_change_the_clocks_by_name() -> None:
    sale = {"signed_on": "2026-07-01", "sale": {"place": "home", "price_cents": 2500}}
    statutory = {**sale, "settings": {"cooling_off_holidays": "statutory"}}
    closed = {**sale, "settings": {"closed": ["2026-07-07"]}}

    assert ends(sale) == {"customer may cancel": "2026-07-07"}
    assert ends(statutory) == {"customer may cancel": "2026-07-06"}
    assert ends(closed) == {"customer may cancel": "2026-07-08"}


def test_the_calendars_used_are_told() -> None:
    got: Any = answer({"settings": {"concealed_holidays": "none", "closed": ["2026-07-07"]}})

    assert got["calendars"]["concealed_damage"] == {
        "name": "Monday to Friday",
        "rest": [5, 6],
        "holidays": "none",
        "closed": [],
    }
    assert got["calendars"]["cooling_off"]["closed"] == ["2026-07-07"]
    assert got["calendars"]["cooling_off"]["holidays"] == "observed_too"
    assert got["calendars"]["cooling_off"]["name"] == "Monday to Saturday"
    assert got["clocks"] == []


def test_more_settings() -> None:
    settings = {"status_reports": 0, "notice_days": 3, "leap_day": "first_of_march"}
    got = ends({**BODY, "settings": settings})

    assert "carrier status 1" not in got
    assert got["seller told of the defect"] == "2026-03-06"
    assert got["warranty ends"] == "2033-03-01"


@pytest.mark.parametrize(
    "sale",
    [
        {"place": "our_place", "price_cents": 185000},
        {"place": "elsewhere", "price_cents": 12999},
        {"place": "home", "price_cents": 2499},
    ],
)
def test_a_sale_that_the_rule_does_not_reach_has_no_clock(sale: dict[str, Any]) -> None:
    assert ends({"signed_on": "2026-07-01", "sale": sale}) == {}


def test_a_sheet_without_days_or_an_event_that_did_not_happen_has_no_clock() -> None:
    bare = {"title": "Sheet", "edition": "1"}

    assert ends({"installed_on": "2026-07-01", "sheet": bare}) == {}
    assert ends({"sheet": BODY["sheet"]}) == {}
    assert ends({"sale": BODY["sale"]}) == {}


def errors_of(body: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(InputErrors) as caught:
        answer(body)
    pointers = [error.pointer for error in caught.value.errors]
    assert len(pointers) == len(set(pointers))
    return {error.pointer: error.code for error in caught.value.errors}


def test_every_mistake_is_pointed_at_once() -> None:
    body = deepcopy(BODY)
    body |= {"deliverd_on": "x", "today": "2026-02-30", "time_zone": "Mars/Olympus"}
    body["sale"] = {"place": "at home", "price_cents": -1}
    body["sheet"] = {
        "title": "",
        "edition": "1",
        "warranty": {"years": 0, "page": "9"},
        "claim": {"within_days": 0, "page": "9"},
    }
    body["settings"] = {
        "concealed_holidays": "federal",
        "closed": ["2026-07-04", "never", 7],
        "leap_day": "first_of_april",
        "status_reports": 13,
        "notice_days": 0,
    }

    assert errors_of(body) == {
        "/deliverd_on": "unknown_member",
        "/today": "day_not_understood",
        "/time_zone": "time_zone_unknown",
        "/sale/place": "not_a_choice",
        "/sale/price_cents": "not_in_range",
        "/sheet/title": "not_a_text",
        "/sheet/warranty/years": "not_in_range",
        "/sheet/claim/within_days": "not_in_range",
        "/settings/concealed_holidays": "not_a_choice",
        "/settings/closed/1": "day_not_understood",
        "/settings/closed/2": "day_not_understood",
        "/settings/leap_day": "not_a_choice",
        "/settings/status_reports": "not_in_range",
        "/settings/notice_days": "not_in_range",
    }


@pytest.mark.parametrize(
    "day", ["20260302", "2026-3-2", "2026-W10-1", "2026-03-02T00:00", "1986-01-01", "2100-01-01", 7]
)
def test_a_day_that_makes_no_sense_is_pointed_at(day: object) -> None:
    assert list(errors_of({"delivered_on": day})) == ["/delivered_on"]


@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        ("delivered_on", "damage_found_on"),
        ("delivered_on", "claim_received_on"),
        ("claim_received_on", "claim_disallowed_on"),
    ],
)
def test_what_follows_may_not_come_first(earlier: str, later: str) -> None:
    assert errors_of({earlier: "2026-03-02", later: "2026-03-01"}) == {
        f"/{later}": "day_out_of_order"
    }
    assert answer({earlier: "2026-03-02", later: "2026-03-02"})["clocks"]


def test_a_signature_without_a_sale_asks_for_the_sale() -> None:
    assert errors_of({"signed_on": "2026-03-02"}) == {"/sale": "missing"}


def test_the_firm_s_own_closed_days_give_it_no_more_time_to_tell_the_carrier() -> None:
    """By hand: five business days from Monday 2 March end on Monday 9 March, closed or not."""
    week = [f"2026-03-0{day}" for day in range(3, 7)]
    shut = {"delivered_on": "2026-03-02", "settings": {"closed": week}}

    assert ends(shut)["concealed damage told"] == "2026-03-09"


@pytest.mark.parametrize("rule", ["none", "observed"])
def test_no_way_of_counting_may_shorten_the_buyer_s_time(rule: str) -> None:
    """Signed on Friday 3 July 2026, "observed" would let Saturday the 4th count: the 7th, not the 8th."""
    body = {"settings": {"cooling_off_holidays": rule}}

    assert errors_of(body) == {"/settings/cooling_off_holidays": "not_a_choice"}


@pytest.mark.parametrize(
    ("body", "clock", "why"),
    [
        ({"sale": BODY["sale"]}, "customer may cancel", "signed_on"),
        (
            {"signed_on": "2026-07-01", "sale": {"place": "home", "price_cents": 2499}},
            "customer may cancel",
            "begins at 25 dollars at the buyer's home",
        ),
        (
            {"signed_on": "2026-07-01", "sale": {"place": "elsewhere", "price_cents": 12999}},
            "customer may cancel",
            "begins at 130 dollars away",
        ),
        (
            {"signed_on": "2026-07-01", "sale": {"place": "our_place", "price_cents": 99999}},
            "customer may cancel",
            "at our own place",
        ),
        ({"sheet": {**BODY["sheet"], "claim": None}}, "warranty ends", "installed_on"),
        (
            {"sheet": {**BODY["sheet"], "warranty": None}},
            "damage told to the maker",
            "delivered_on",
        ),
    ],
)
def test_what_does_not_run_says_why(body: dict[str, Any], clock: str, why: str) -> None:
    got: Any = answer(body)

    assert got["clocks"] == []
    assert [one["clock"] for one in got["not_running"]] == [clock]
    assert why in got["not_running"][0]["why"]


def test_of_clocks_that_run_nothing_is_left_untold() -> None:
    assert answer(BODY)["not_running"] == []
