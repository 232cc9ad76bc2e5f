"""Has every drawing of a verdict its own address, and does a strange name get told the real ones?"""

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import survey_case

VERDICTS = "/api/v1/verdicts/"
TITLES = {
    "elevation": "Front elevation",
    "margins": "Margins",
    "plan": "Plan",
    "section": "Side section",
    "holes-left": "Hole map, left wall",
    "holes-right": "Hole map, right wall",
    "handing": "Panel handing",
    "cuts": "Cuts on their stock",
    "way-in": "Way in",
}


@pytest.fixture
def verdict(office: Caller, db: None) -> str:
    reply = office.post("/api/v1/surveys/", survey_case("fits").body, key=None)
    return str(reply.json()["verdict"]["id"])


def test_each_drawing_stands_at_its_own_address(office: Caller, verdict: str) -> None:
    for name, title in TITLES.items():
        reply = office.get(f"{VERDICTS}{verdict}/drawings/{name}/")

        assert reply.status_code == 200
        assert reply["Content-Type"].startswith("image/svg+xml")
        assert f"<title>{title}" in reply.content.decode()
        assert "sandbox" in reply["Content-Security-Policy"]


def test_a_strange_name_is_told_the_real_ones(office: Caller, verdict: str) -> None:
    reply = office.get(f"{VERDICTS}{verdict}/drawings/roof/")

    problem = assert_problem(reply, 404, "not_found")
    assert "elevation, margins, plan, section" in problem["hint"]


def test_the_desk_shows_them_in_reading_order(office: Caller, verdict: str) -> None:
    page = office.get(f"{VERDICTS}{verdict}/", headers={"Accept": "text/html"}).content.decode()

    places = [page.find(f"/drawings/{name}/") for name in TITLES]
    assert -1 not in places
    assert places == sorted(places)
