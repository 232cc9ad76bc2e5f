"""What takes longer to say of a verdict: is it told when asked for, kept, and the same again?"""

from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.test import Client

from jobs.verdicts.models import Depth, Verdict
from tests.clients import Caller, assert_problem
from tests.factories import survey_case

SURVEYS = "/api/v1/surveys/"


def given(office: Caller, like: str = "fits") -> Any:
    return office.post(SURVEYS, survey_case(like).body).json()["verdict"]


def test_a_survey_does_not_wait_for_it(office: Caller) -> None:
    given(office)
    assert not Depth.objects.exists()


def test_it_is_worked_out_once_and_kept(office: Caller) -> None:
    verdict = given(office)
    told = office.get(f"{verdict['url']}depth/").json()
    again = office.get(f"{verdict['url']}depth/").json()

    assert told == again
    assert Depth.objects.count() == 1
    assert told["inputs_digest"] == verdict["result"]["inputs_digest"]
    assert told["shape"]["one_more_reading"]["do"].startswith("Read ")
    assert {one["state"] for one in told["shape"]["readings"]} <= {"kept", "not checkable"}
    assert told["least_change"] is None
    bounds = verdict["result"]["chance"]
    assert float(bounds["at_least"]) <= float(told["chance"]["chance"]) <= float(bounds["at_most"])


@pytest.mark.parametrize("like", ["tight", "fails", "unknown"])
def test_what_does_not_fit_is_told_what_would_change_that(office: Caller, like: str) -> None:
    verdict = given(office, like)
    told = office.get(f"{verdict['url']}depth/").json()

    states = {one["state"] for one in verdict["result"]["findings"]}
    assert told["least_change"]["changes"]
    assert (told["chance"]["chance"] is None) == ("unknown" in states)


def test_a_kept_depth_replays_and_a_changed_copy_is_told(office: Caller) -> None:
    verdict = given(office, "tight")
    office.get(f"{verdict['url']}depth/")
    assert office.get(f"{verdict['url']}replay/").json()["agrees"] is True

    other = given(office, "fits")
    Depth.objects.create(verdict_id=other["id"], result={"forged": True})
    assert office.get(f"{other['url']}replay/").json()["differs"] == ["depth"]


def test_older_rules_do_not_know_of_it(office: Caller) -> None:
    key = given(office)["id"]
    old = Verdict.objects.get(pk=key)
    old.pk, old.rules_version = None, "1"
    old = Verdict(
        **{f.attname: getattr(old, f.attname) for f in Verdict._meta.fields if f.name != "id"}
    )
    old.save(force_insert=True)
    assert_problem(office.get(f"/api/v1/verdicts/{old.pk}/depth/"), 404, "no_depth")
    assert office.get(f"/api/v1/verdicts/{old.pk}/").status_code == 200


def test_the_database_lets_no_kept_depth_be_changed(office: Caller) -> None:
    office.get(f"{given(office)['url']}depth/")
    with pytest.raises(IntegrityError, match="only ever grow"), transaction.atomic():
        Depth.objects.update(result="{}")


def test_the_page_of_a_verdict_shows_it_in_words(office: Caller) -> None:
    url = given(office, "tight")["url"]
    browser = Client(HTTP_ACCEPT="text/html")
    browser.cookies = office.cookies
    page = browser.get(url).content.decode()

    for said in (
        "Shape of the opening",
        "Chance that every limit is kept",
        "Saw marks foretold, none released",
        "What each fixing bears",
        "Mark to look for",
        "Every reading judged by the others",
        "What would make it fit",
    ):
        assert said in page, said
