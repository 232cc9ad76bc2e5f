"""Does one answer hold all that a tablet needs to work a visit through without a signal?"""

from fitcheck.rules.length import length_parse
from jobs.stock.models import Item
from tests.clients import Caller
from tests.factories import CrewFactory, MemberFactory, tablet_made
from tests.installs import movement_made
from tests.site import Site, site_of


def test_the_bundle_has_readings_verdict_stops_and_cuts(tablet: Caller, measurer: Caller) -> None:
    site = site_of(tablet, measurer)
    movement_made(site.booking.crew, Item.objects.create(slug="screw-10", name="Screw"))
    told = tablet.get(f"/api/v1/visit-bundles/{site.booking.number}/").json()
    (opening,) = told["openings"]
    assert len(opening["readings"]) == len(site.survey["readings"])
    assert opening["verdict"]["id"] == site.verdict["id"]
    assert [one["part"] for one in opening["cuts"]] == ["head rail", "threshold strip"]
    rail = opening["cuts"][0]
    assert length_parse(rail["predicted"]["distance"]).nm > length_parse(rail["deduct"]).nm
    assert rail["stop"] in [one["key"] for one in opening["stops"]]
    assert told["van"] == [{"item": "screw-10", "name": "Screw", "on_hand": 4, "short": 0}]
    assert told["visit"]["members"][0] == "Hien Phan"


def test_once_started_it_says_under_which_id_and_what_is_recorded(site: Site) -> None:
    site.record("glass_inspected")
    told = site.tablet.get(f"/api/v1/visit-bundles/{site.booking.number}/").json()
    (opening,) = told["openings"]
    assert opening["install"] == site.id
    assert [one["stop"] for one in opening["recorded"]] == ["glass_inspected"]
    assert [one["key"] for one in opening["stops"]] == [one["key"] for one in site.install["stops"]]


def test_another_crew_s_visit_is_not_there(site: Site) -> None:
    member = MemberFactory(role="lead")
    CrewFactory(members=[member])
    foreign = Caller().with_token(tablet_made(member)[1])
    path = f"/api/v1/visit-bundles/{site.booking.number}/"
    assert foreign.get(path).status_code == 404
    assert site.tablet.get(path).status_code == 200
