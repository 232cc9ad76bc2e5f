"""Can somebody at a desk say what glass passes on its way in, by boxes?"""

import re

import pytest

from contractor.customers.models import Site
from fitcheck.rules.way_in_kinds import PASSES
from tests.clients import Caller
from tests.factories import SiteFactory

HTML = {"Accept": "text/html"}


@pytest.fixture
def site(db: None) -> Site:
    made: Site = SiteFactory(passes=["corner"], corridor_width="40 in")
    return made


def test_the_form_shows_a_box_for_each_kind_and_a_field_for_each_size(
    office: Caller, site: Site
) -> None:
    page = office.get(f"/api/v1/sites/{site.number}/", headers=HTML).content.decode()
    boxes = re.findall(r'<input[^>]*name="way_in.passes"[^>]*>', page)

    assert [re.search('value="([^"]*)"', one)[1] for one in boxes] == list(PASSES)
    assert [re.search('value="([^"]*)"', one)[1] for one in boxes if "checked" in one] == ["corner"]
    assert 'name="way_in.landing_depth"' in page
    assert "door width, door height, corridor height" in page


def test_what_the_form_sends_is_kept(office: Caller, site: Site) -> None:
    path = f"/api/v1/sites/{site.number}/"
    sent = {"way_in.passes": ["lift", "corner"], "way_in.lift_depth": "53 in", "_version": "1"}
    reply = office.patch(path, sent, headers=HTML, format="multipart")
    assert reply.status_code == 303
    site.refresh_from_db()
    assert (site.passes, site.lift_depth) == (["corner", "lift"], "53 in")


def test_a_refusal_stands_beside_the_boxes(office: Caller, site: Site) -> None:
    path = f"/api/v1/sites/{site.number}/"
    sent = {"way_in.passes": ["straight_in"], "_version": "1"}
    reply = office.patch(path, sent, headers=HTML, format="multipart")
    assert reply.status_code == 400
    assert "straight in on one level, and with more: corridor_width" in reply.content.decode()
    site.refresh_from_db()
    assert site.passes == ["corner"]
