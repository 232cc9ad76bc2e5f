"""Does a kept verdict come out the same when it is worked out again, and is a changed copy told?"""

import copy
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_replay
from tests.clients import Caller
from tests.factories import STORY, survey_case

SURVEYS = "/api/v1/surveys/"


def given(office: Caller, like: str = "fits") -> Verdict:
    reply = office.post(SURVEYS, survey_case(like).body)
    found = Verdict.objects.select_related("sheet", "opening__job__site")
    return found.get(pk=reply.data["verdict"]["id"])


@pytest.mark.parametrize("like", [*STORY, "s-03", "s-04", "s-06", "s-07", "s-09", "s-11"])
def test_every_kept_verdict_comes_out_the_same(office: Caller, like: str) -> None:
    verdict = given(office, like)
    reply = office.get(f"/api/v1/verdicts/{verdict.pk}/replay/")
    assert reply.data == {
        "agrees": True,
        "differs": [],
        "rules_version": verdict.rules_version,
    }


def tampered_reading(verdict: Verdict) -> None:
    verdict.inputs["readings"][0]["value"] = "47 in"


def tampered_finding(verdict: Verdict) -> None:
    verdict.result["findings"][0]["state"] = "tight"


def tampered_state(verdict: Verdict) -> None:
    verdict.state = "tight"


def tampered_digest(verdict: Verdict) -> None:
    verdict.inputs_digest = "sha256:" + "0" * 64


def tampered_version(verdict: Verdict) -> None:
    verdict.rules_version = "0"


def tampered_sheet(verdict: Verdict) -> None:
    verdict.sheet.body["document"]["edition"] = "forged"


@pytest.mark.parametrize(
    ("tamper", "differs"),
    [
        (tampered_reading, "inputs_digest"),
        (tampered_finding, "findings"),
        (tampered_state, "state"),
        (tampered_digest, "inputs_digest"),
        (tampered_version, "rules_version"),
        (tampered_sheet, "sheet"),
    ],
)
def test_a_changed_copy_is_told(office: Caller, tamper: Any, differs: str) -> None:
    verdict = copy.deepcopy(given(office))
    assert verdict_replay(verdict=verdict) == []
    tamper(verdict)
    assert differs in verdict_replay(verdict=verdict)


def test_the_database_lets_no_kept_verdict_be_changed(office: Caller) -> None:
    verdict = given(office)
    with pytest.raises(IntegrityError, match="only ever grow"), transaction.atomic():
        Verdict.objects.filter(pk=verdict.pk).update(state="tight")
    verdict.refresh_from_db()
    assert verdict.state == "fits"
