"""Can everybody read and use the desk? Measured by axe-core in a real browser on its pages.

Source of the rules: WCAG 2.2 levels A and AA as automated by axe-core 4.14.1 (MPL-2.0, in `axe/`),
and target sizes of WCAG 2.2, 2.5.8.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.clients import Caller
from tests.factories import MemberFactory
from tests.world import address, make_world

pytestmark = [pytest.mark.real, pytest.mark.django_db(transaction=True), pytest.mark.timeout(240)]
AXE = (Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
ROOMS = (
    *("bookings", "jobs", "openings", "surveys", "verdicts", "packets", "customers", "sites"),
    *("kits", "sheets", "members", "crews", "tablets", "integrations", "history", "reminders"),
    *("checks/length", "checks/fit", "changes", "refused-surveys"),
    *("bookings/free", "plans", "calendars", "days-off", "closed-days", "holidays"),
)

# Each with its list and the page of a row; exports have neither, a digest has no row.
NOUNS = (
    *("webhook", "delivery", "reminder-rule", "reminder", "import", "loss", "save"),
    *("claim", "deadline", "warranty", "order", "arrival", "inspection"),
    *("install", "install-record", "mark", "handover", "saw-plan", "drawing"),
    *("stock-item", "stock-movement", "van-stock"),
)


def violations(page: Any) -> list[str]:
    """Run axe-core on the page as it stands; one line for each element at fault."""
    page.evaluate(AXE)
    told = "{runOnly: {type: 'tag', values: tags}, resultTypes: ['violations']}"
    found = page.evaluate(f"tags => axe.run(document, {told})", TAGS)
    assert len(found["passes"]) > 10, "axe-core did not look at the page"
    return [
        f"{page.url} {rule['id']}: {node['target']} {node['html'][:160]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def test_no_page_of_the_desk_breaks_a_rule_that_a_machine_can_check(
    desk: Any, office: Caller, crew: Any, surveyed: Callable[[str], str]
) -> None:
    job = surveyed("fails")
    [survey] = office.get("/api/v1/surveys/").json()["results"]
    [verdict] = office.get("/api/v1/verdicts/").json()["results"]
    rows = [
        f"jobs/{job}/",
        f"surveys/{survey['id']}/",
        f"verdicts/{verdict['id']}/",
        "crews/heron/",
    ]
    paths = ["", *(f"{room}/" for room in ROOMS), *rows, f"openings/{verdict['opening']}/"]
    wrong = []
    for path in [*paths, "jobs/J-9999/", "jobs/?q=nothing-like-it", "nothing-here/"]:
        desk.goto(f"/api/v1/{path}")
        wrong += violations(desk)
    assert not wrong, "\n".join(wrong)


@pytest.mark.timeout(480)  # some forty pages
def test_pages_of_messages_lists_goods_and_installs_break_no_rule_either(
    desk: Any, measurer: Caller
) -> None:
    world = make_world(measurer, [MemberFactory(role="lead"), MemberFactory()])
    paths = ["/api/v1/digest/"]
    for noun in NOUNS:
        row = address(noun, "retrieve", world.keys[noun])
        paths += [row.replace(f"{world.keys[noun]}/", ""), row]
    wrong = []
    for path in paths:
        desk.goto(path)
        assert desk.locator("h1").inner_text(), path
        wrong += violations(desk)
    assert not wrong, "\n".join(wrong)


def test_a_refused_form_and_the_login_break_no_rule_either(desk: Any, live_server: Any) -> None:
    desk.goto("/api/v1/bookings/")
    desk.get_by_role("button", name="Book a visit", exact=True).click()
    desk.get_by_role("alert").wait_for()
    wrong = violations(desk)
    desk.get_by_role("button", name="Log out").click()
    wrong += violations(desk)
    desk.get_by_label("Login name").fill("nobody")
    desk.get_by_label("Password").fill("wrong")
    desk.get_by_role("button", name="Log in").click()
    desk.get_by_role("alert").wait_for()
    assert wrong + violations(desk) == []


def test_the_first_stop_of_the_keyboard_leads_past_the_rooms_to_the_page(desk: Any) -> None:
    desk.goto("/api/v1/bookings/")
    desk.keyboard.press("Tab")
    assert desk.evaluate("document.activeElement.textContent") == "Skip to the page"
    desk.keyboard.press("Enter")
    desk.locator("#main:focus").wait_for()


def test_nothing_scrolls_sideways_on_a_narrow_screen_but_tables_and_pictures(desk: Any) -> None:
    desk.set_viewport_size({"width": 340, "height": 800})
    for path in ("", "bookings/", "customers/"):
        desk.goto(f"/api/v1/{path}")
        assert desk.evaluate("document.documentElement.scrollWidth") <= 340, path
