"""What does the desk make of a form: lengths by line, a photo, the stop that comes next?"""

import io
from typing import Any

import pytest
from django.utils import timezone

from jobs.handovers.models import Handover
from jobs.installs.models import Install, Mark, Record
from jobs.surveys.models import Photo
from tests.clients import Caller, assert_problem
from tests.installs import signature
from tests.site import Site, site_of
from tests.world import jpeg


def posted(office: Caller, site: Site, task: str, values: dict[str, Any]) -> Any:
    """Post a form as a browser does, files and all."""
    return office.post(f"/api/v1/installs/{site.id}/{task}/", values, format="multipart")


def photo() -> Any:
    stream = io.BytesIO(jpeg()[1])
    stream.name = "stop.jpg"
    return stream


def test_the_next_stop_is_recorded_with_its_lengths_and_photo(site: Site, office: Caller) -> None:
    site.until("backing_located")
    stop = next(one for one in site.install["stops"] if one["key"] == "backing_located")
    lines = [site.surveyed(one) for one in stop["needs"] if one["kind"] == "reading"]
    values = {
        "all_right": "true",
        "lengths": "\n".join(lines),
        "tool": "tape",
        "accuracy_class": "II",
        "graduation": "1/16 in",
        "photo": photo(),
    }
    answer = posted(office, site, "stop", values)
    assert answer.status_code == 201, answer.content
    record = Record.objects.get(stop="backing_located")
    assert record.said_by == "Imke Thorsby"
    assert [one["value"] for one in record.body["readings"]] == lines
    assert record.body["photos"] == [Photo.objects.get().pk]
    assert not record.outcome["missing"]


def test_more_lengths_than_the_stop_asks_for_are_refused(site: Site, office: Caller) -> None:
    answer = posted(office, site, "stop", {"lengths": "1 in\n2 in", "photo": photo()})
    assert_problem(answer, 400, "too_many", "/lengths")


def test_a_stop_out_of_turn_is_refused_with_what_comes_first(site: Site, office: Caller) -> None:
    answer = posted(office, site, "stop", {"stop": "seals_on", "all_right": "true"})
    body = assert_problem(answer, 409, "stop_out_of_order", "/stop")
    assert body["first"] == "glass_inspected"
    assert any("At least one photo" in one for one in body["wants"])
    assert not Record.objects.exists()


def test_a_cut_is_settled_by_its_own_form(site: Site, office: Caller) -> None:
    site.until("cut_head_rail")
    answer = posted(office, site, "stop", {"all_right": "true"})
    assert_problem(answer, 409, "other_form", "/stop")
    right = site.distance("head rail")
    values = {
        "part": "head rail",
        "first_value": right,
        "first_by": "Hien Phan",
        "second_value": right,
        "second_by": "Callum Reyes",
        "typed_why": "Callum has no phone here.",
        "accuracy_class": "II",
    }
    answer = posted(office, site, "mark", values)
    assert (answer.status_code, Mark.objects.get().state) == (201, "released")


def test_finished_too_early_is_refused(site: Site, office: Caller) -> None:
    body = assert_problem(posted(office, site, "finish", {}), 409, "stop_out_of_order")
    assert body["hint"].startswith("First: Glass inspected.")


def test_a_handover_keeps_the_signature_that_came_with_the_form(site: Site, office: Caller) -> None:
    digest, data = signature()
    stream = io.BytesIO(data)
    stream.name = "signature.png"
    told = {name: "true" for name in ("label_shown", "care_sheet_given", "tempered_told")}
    answer = posted(office, site, "handover", {"person": "Bram", "signature": stream, **told})
    assert answer.status_code == 201, answer.content
    row = Handover.objects.get()
    assert (row.signature, row.lacks()) == (digest, [])


def test_an_install_started_from_a_form_starts_now(
    tablet: Caller, measurer: Caller, office: Caller
) -> None:
    booking = site_of(tablet, measurer).booking
    before = timezone.now()
    answer = office.post("/api/v1/installs/", {"booking": booking.number}, format="multipart")
    assert answer.status_code == 201, answer.content
    assert before <= Install.objects.get().started_at <= timezone.now()


@pytest.mark.parametrize(
    ("key", "asked"),
    [
        ("glass_inspected", {"all_right"}),
        ("opening_reread", {"lengths", "tool"}),
        ("brackets_fixed", {"all_right", "lengths", "tool", "second_person", "typed_why"}),
        ("leak_check", {"result"}),
    ],
)
def test_the_form_asks_only_what_the_next_stop_asks(
    site: Site, office: Caller, key: str, asked: set[str]
) -> None:
    site.until(key)
    page = office.get(f"/api/v1/installs/{site.id}/", headers={"Accept": "text/html"})
    form = page.content.decode().split('id="stop"')[1].split("</form>")[0]
    every = {"all_right", "lengths", "tool", "second_person", "typed_why", "result"}
    assert {name for name in every if f'name="{name}"' in form} == asked


def test_no_mark_is_asked_for_when_every_cut_is_released(site: Site, office: Caller) -> None:
    site.until("catches_in")
    page = office.get(f"/api/v1/installs/{site.id}/", headers={"Accept": "text/html"})
    assert "Ask for a saw mark" not in page.content.decode()
    assert "A part is sawn" in page.content.decode()
