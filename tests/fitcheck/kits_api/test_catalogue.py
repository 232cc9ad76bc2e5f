"""Is the catalogue read and added to as its rules say?"""

import pytest

from fitcheck.kits.models import Kit
from tests.clients import Caller, assert_problem
from tests.factories import KitFactory, kit_published

KITS = "/api/v1/kits/"
NEW = {"slug": "quill-lark", "name": "Quill Lark", "maker": "Invented Wetrooms", "invented": True}


def test_a_kit_is_added_without_a_sheet(office: Caller) -> None:
    answer = office.post(KITS, NEW)
    assert answer.status_code == 201
    assert answer.json()["newest_sheet"] == ""
    assert office.get(answer["Location"]).json() == answer.json()


def test_a_kit_names_its_newest_sheet(office: Caller) -> None:
    kit = kit_published("vellumbrook-fennimule")
    assert office.get(f"{KITS}{kit.slug}/").json()["newest_sheet"] == f"{kit.slug}:2"


def test_a_short_name_is_taken_once(office: Caller) -> None:
    KitFactory(slug=NEW["slug"])
    assert_problem(office.post(KITS, NEW), 400, "unique", "/slug")
    assert Kit.objects.count() == 1


@pytest.mark.parametrize("slug", ["with space", "slug:2", "../up", "ü", ""])
def test_a_short_name_fits_into_an_address(office: Caller, slug: str) -> None:
    answer = office.post(KITS, {**NEW, "slug": slug})
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"] == "/slug"


def test_kits_are_found_by_name_and_maker(office: Caller) -> None:
    KitFactory(slug="one", name="Tern", maker="Larkfield")
    KitFactory(slug="two", name="Wren", maker="Larkfield")
    found = office.get(f"{KITS}?q=larkfield+wren").json()["results"]
    assert [one["slug"] for one in found] == ["two"]


@pytest.mark.parametrize("slug", ["nothing", "osquith-tillybeck:1", "1"])
def test_an_absent_kit_is_not_found(office: Caller, slug: str) -> None:
    kit_published()
    assert_problem(office.get(f"{KITS}{slug}/"), 404, "not_found")
