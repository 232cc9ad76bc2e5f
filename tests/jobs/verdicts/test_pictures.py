"""Has every drawing of a verdict its own address, and does a strange name get told the real ones?"""

import re
from typing import Any

import pytest

from contractor.customers.models import Site
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


@pytest.mark.parametrize(
    ("way", "says"),
    [
        ({"passes": ["straight_in"]}, "Straight in on one level, as the site is told"),
        ({}, "Nobody has told how the glass gets in"),
        (
            {"passes": ["lift"], "door_width": "30 in", "door_height": "70 in"},
            "lift car: not worked out; measure wide, deep, high, door wide, door high.",
        ),
        (
            {"passes": ["straight_in"], "door_width": "30 in", "door_height": "70 in"},
            "Reckoned with 25 mm of packing on every side, a house setting.",
        ),
    ],
)
def test_the_way_in_is_drawn_as_the_site_tells_it(
    office: Caller, verdict: str, way: dict[str, Any], says: str
) -> None:
    Site.objects.update(**{"passes": [], **way})
    reply = office.get(f"{VERDICTS}{verdict}/drawings/way-in/")

    told = " ".join(re.sub("<[^>]*>", " ", reply.content.decode()).split())
    assert says.lower() in told.lower()
