"""Is a fact under its sender's own id kept once? House rules; no source."""

import pytest
from django.db import IntegrityError

from contractor.api.facts import check_same, digest_of, kept_once, taken
from contractor.api.problems import Problem


class Row:
    """A row as facts have it."""

    pk, digest = "row-1", digest_of({"a": 1, "b": [2]})


def test_a_digest_knows_content_and_not_the_order_of_members():
    assert digest_of({"b": [2], "a": 1}) == Row.digest
    assert digest_of({"a": 1, "b": [3]}) != Row.digest


def test_other_content_under_a_taken_id_is_refused_and_the_same_is_not():
    check_same(Row, Row.digest, "record")
    with pytest.raises(Problem, match="row-1 was used for another record") as refused:
        check_same(Row, "other", "record")
    assert refused.value.code == "id_taken"


@pytest.mark.django_db
def test_work_that_a_twin_was_quicker_with_is_done_again_once():
    calls = []

    def work():
        calls.append("work")
        if len(calls) == 1:
            raise IntegrityError("the twin's row is there")
        return "the twin's answer"

    assert kept_once(work) == "the twin's answer"
    assert len(calls) == 2


@pytest.mark.django_db
def test_without_a_twin_it_is_said_what_was_taken():
    def work():
        raise IntegrityError("a reading's id is there")

    with pytest.raises(Problem, match="a reading's id"):
        kept_once(work, lambda: taken("The id is a reading's id of another survey.", "/readings/0"))
    with pytest.raises(IntegrityError):
        kept_once(work)
