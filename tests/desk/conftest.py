"""What a browser test stands on: the system's Chromium, a served desk, and jobs that fit or fail."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.clients import Caller
from tests.factories import CrewFactory, survey_case

ROOT = Path(__file__).resolve().parents[2]
PASSWORD = "invented-but-long-enough"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]


def chromium_path() -> str | None:
    """Where the system keeps its Chromium."""
    for path in (os.environ.get("CHROMIUM"), "/usr/bin/chromium", shutil.which("chromium")):
        if path and Path(path).exists():
            return path
    return None


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """A browser for the tests of one module; without one they are skipped, saying so."""
    path = chromium_path()
    if path is None:
        pytest.skip("no Chromium at $CHROMIUM, /usr/bin/chromium or on the PATH")
    from playwright.sync_api import sync_playwright

    before = os.environ.get("DJANGO_ALLOW_ASYNC_UNSAFE")
    # The driver's event loop runs in the thread of the tests, which Django would refuse to serve.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()
    if before is None:
        del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@pytest.fixture
def shoot() -> Callable[[Any, str], None]:
    """Keep a picture of the page as an artefact."""
    folder = Path(os.environ.get("ARTEFACTS", ROOT / ".artefacts"))
    folder.mkdir(parents=True, exist_ok=True)

    def shot(page: Any, name: str) -> None:
        page.screenshot(path=str(folder / f"desk-{name}.png"), full_page=True)

    return shot


@pytest.fixture
def desk(live_server: Any, chromium: Any, office: Caller) -> Iterator[Any]:
    """A page on which the office has logged in by the form."""
    office.member.set_password(PASSWORD)
    office.member.save()
    office.force_login(office.member)
    context = chromium.new_context(
        base_url=live_server.url, viewport={"width": 1280, "height": 900}
    )
    page = context.new_page()
    page.set_default_timeout(15_000)
    page.goto("/")
    page.get_by_label("Login name").fill(office.member.login)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    page.get_by_role("heading", name="Desk").wait_for()
    yield page
    context.close()


@pytest.fixture
def surveyed(office: Caller) -> Callable[[str], str]:
    """Survey an opening whose verdict is as asked; gives the number of its job."""

    def survey(like: str) -> str:
        case = survey_case(like)
        answer = office.post("/api/v1/surveys/", case.body)
        assert answer.status_code == 201, answer.content
        assert answer.json()["verdict"]["state"] == like
        number: str = case.opening.job.number
        return number

    return survey


@pytest.fixture
def crew(db: None) -> Any:
    """A crew of two with a name to choose."""
    return CrewFactory(slug="heron", name="Heron")
