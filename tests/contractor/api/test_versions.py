"""Is a write refused that saw an older version?"""

import pytest

from contractor.customers.models import Customer
from contractor.notices.models import Notice
from tests.clients import Caller, assert_problem, twin
from tests.factories import CustomerFactory, SiteFactory
from tests.threads import in_parallel

CUSTOMERS = "/api/v1/customers/"


def test_a_row_is_given_out_with_its_version_as_entity_tag(office: Caller) -> None:
    customer = CustomerFactory()
    answer = office.get(f"{CUSTOMERS}{customer.number}/")
    assert answer["ETag"] == '"1"'
    assert answer.json()["version"] == 1


def test_a_new_row_comes_with_its_address_and_tag(office: Caller) -> None:
    answer = office.post(CUSTOMERS, {"name": "Wren"})
    assert answer.status_code == 201
    assert answer["ETag"] == '"1"'
    assert office.get(answer["Location"]).json() == answer.json()


def test_a_change_that_names_no_version_is_refused(office: Caller) -> None:
    customer = CustomerFactory()
    answer = office.patch(f"{CUSTOMERS}{customer.number}/", {"name": "Wren"})
    body = assert_problem(answer, 428, "version_missing")
    assert "If-Match" in body["hint"]


@pytest.mark.parametrize("tag", ['"0"', '"2"', "1", 'W/"1"', '""', "nonsense"])
def test_a_change_of_another_version_is_refused_naming_the_present_one(
    office: Caller, tag: str
) -> None:
    customer = CustomerFactory(name="Before")
    answer = office.patch(f"{CUSTOMERS}{customer.number}/", {"name": "After"}, seen=tag)
    body = assert_problem(answer, 412, "version_stale")
    assert body["current"]["version"] == 1
    customer.refresh_from_db()
    assert (customer.name, customer.version) == ("Before", 1)


@pytest.mark.parametrize("tag", ['"1"', "*", '"7", "1"'])
def test_a_change_of_the_present_version_is_taken_and_makes_the_next(
    office: Caller, tag: str
) -> None:
    customer = CustomerFactory()
    answer = office.patch(f"{CUSTOMERS}{customer.number}/", {"name": "Wren"}, seen=tag)
    assert answer.status_code == 200
    assert answer["ETag"] == '"2"'
    assert answer.json()["name"] == "Wren"


def test_a_change_that_changes_nothing_makes_no_version_and_no_notice(office: Caller) -> None:
    customer = CustomerFactory(name="Wren")
    answer = office.patch(f"{CUSTOMERS}{customer.number}/", {"name": "Wren"}, seen=1)
    assert answer["ETag"] == '"1"'
    assert not Notice.objects.exists()


def test_a_merge_patch_leaves_alone_what_it_does_not_name(office: Caller) -> None:
    site = SiteFactory(door_width="30 in", door_height="78 in", postal_code="00011")
    path = f"/api/v1/sites/{site.number}/"
    body = b'{"way_in": {"door_width": "31 1/2 in"}, "address": {"streetAddress": "9 Elm Rise"}}'
    answer = office.generic(
        "PATCH", path, body, content_type="application/merge-patch+json", HTTP_IF_MATCH='"1"'
    )
    assert answer.status_code == 200, answer.content
    told = answer.json()
    assert told["way_in"]["door_width"] == "31 1/2 in"
    assert told["way_in"]["door_height"] == "78 in"
    assert told["address"]["streetAddress"] == "9 Elm Rise"
    assert told["address"]["postalCode"] == "00011"


def test_a_merge_patch_clears_with_null_what_may_be_empty(office: Caller) -> None:
    site = SiteFactory(year_built=1974)
    answer = office.patch(f"/api/v1/sites/{site.number}/", {"year_built": None}, seen=1)
    assert answer.status_code == 200
    assert answer.json()["year_built"] is None


@pytest.mark.django_db(transaction=True)
def test_of_two_changes_at_one_moment_exactly_one_wins(office: Caller) -> None:
    for _ in range(5):
        customer = CustomerFactory()
        path = f"{CUSTOMERS}{customer.number}/"
        answers = in_parallel(
            2, lambda n, path=path: twin(office).patch(path, {"name": f"Writer {n}"}, seen=1)
        )
        codes = [one.status_code for one in answers]
        assert sorted(codes) == [200, 412]
        kept = Customer.objects.get(pk=customer.pk)
        assert (kept.name, kept.version) == (f"Writer {codes.index(200)}", 2)
        assert Notice.objects.filter(about=customer.number).count() == 1
