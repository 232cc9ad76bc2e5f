"""Can a lead tend an install from a browser: see what is next, record it, and get a saw mark?"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jobs.installs.models import Mark, Record
from tests.clients import Caller
from tests.site import Site, site_of

pytestmark = [
    pytest.mark.real,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("browser"),
]
AXE = (Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8")


@pytest.fixture
def site(tablet: Caller, measurer: Caller) -> Site:
    made = site_of(tablet, measurer)
    made.start()
    return made


def test_an_install_is_tended_from_a_browser(
    desk: Any, site: Site, shoot: Callable[[Any, str], None]
) -> None:
    page = f"/api/v1/installs/{site.id}/"
    desk.goto(page)
    assert "Next: Glass inspected" in desk.locator(".banner").first.inner_text()

    form = desk.locator("#stop form").first
    form.get_by_label("All of it is so").check()
    form.get_by_label("Stop", exact=False).first.fill("seals_on")
    form.get_by_role("button", name="Record the next stop").click()
    assert "Glass inspected comes first" in desk.locator("main").inner_text()
    assert not Record.objects.exists()

    desk.goto(page)
    form = desk.locator("#skip form").first
    form.get_by_label("Reason").fill("Looked at in the yard by the lead.")
    form.get_by_role("button", name="Pass a stop").click()
    assert Record.objects.get().state == "skipped"

    desk.goto(page)
    desk.evaluate(AXE)
    wrong = desk.evaluate("axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa']})")
    assert [one["id"] for one in wrong["violations"]] == []

    form = desk.locator("#mark form").first
    form.get_by_label("Part", exact=True).fill("head rail")
    for label, text in (
        ("First reading", "58 in"),
        ("Second reading", "58 in"),
        ("Read by, second", "Callum Reyes"),
    ):
        form.get_by_label(label).fill(text)
    form.get_by_label("Read by").first.fill("Hien Phan")
    form.get_by_role("button", name="Ask for a saw mark").click()
    desk.goto(page)
    assert "comes first" in desk.get_by_role("region", name="Saw marks").inner_text()
    assert Mark.objects.get().state == "held"
    shoot(desk, "install")
