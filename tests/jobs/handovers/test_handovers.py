"""Who took the work over, what were they told, and is the signature only a signature?"""

import hashlib
import io
from typing import Any

import pytest
from PIL import Image

from contractor.notices.models import Notice
from jobs.handovers.models import Handover, Signature
from jobs.jobs.models import Job
from tests.clients import Caller, assert_problem
from tests.site import Site, fresh, site_of

STROKES = b"""<svg xmlns="http://www.w3.org/2000/svg" width="300" height="120">
<path d="M 10 60 c 20 -40 40 40 60 0" stroke="blue" fill="none"/><circle cx="5" cy="6.5" r="2"></circle>
</svg>"""


@pytest.fixture
def site(tablet: Caller, measurer: Caller) -> Site:
    made = site_of(tablet, measurer)
    made.start()
    return made


def put_signature(caller: Caller, data: bytes, kind: str = "image/svg+xml") -> Any:
    digest = hashlib.sha256(data).hexdigest()
    path = f"/api/v1/signatures/{digest}/"
    return caller.generic("PUT", path, data, content_type=kind)


def png(size: tuple[int, int] = (40, 20)) -> bytes:
    from PIL.PngImagePlugin import PngInfo

    stream, words = io.BytesIO(), PngInfo()
    words.add_text("Comment", "written at 41.5 N 87.6 W")
    Image.new("L", size, 255).save(stream, "PNG", pnginfo=words)
    return stream.getvalue()


def body(site: Site, **changes: Any) -> dict[str, Any]:
    told = {
        "install": site.id,
        "person": "Odalys Fenwright",
        "person_is": "owner",
        "label_shown": True,
        "care_sheet_given": True,
        "tempered_told": True,
        "use_told": True,
        "signature": hashlib.sha256(STROKES).hexdigest(),
        "follow_up_on": "2027-03-16",
        "taken_at": site.now(),
    }
    return {name: value for name, value in (told | changes).items() if value is not None}


def hand_over(site: Site, uuid: str = "", **changes: Any) -> Any:
    return site.tablet.put(f"/api/v1/handovers/{uuid or fresh()}/", body(site, **changes))


def test_a_signed_handover_settles_the_last_stop(site: Site) -> None:
    site.until("handed_over")
    site.plain("finish")
    assert put_signature(site.tablet, STROKES).status_code == 201
    answer = hand_over(site)
    told = answer.json()
    assert (answer.status_code, told["lacks"], told["signature_missing"]) == (201, [], False)
    assert site.stop("handed_over")["state"] == "done"
    notice = Notice.objects.get(noun="handover")
    assert (notice.type, notice.about) == ("handover.signed", site.id)
    assert notice.changes["follow_up_on"] == [None, "2027-03-16"]


def test_a_signature_may_come_after_its_handover(site: Site) -> None:
    told = hand_over(site).json()
    assert told["signature_missing"] is True
    put_signature(site.tablet, STROKES)
    assert site.tablet.get(told["url"]).json()["signature_missing"] is False


def test_unsigned_needs_a_reason_and_is_told_as_such(site: Site) -> None:
    assert_problem(hand_over(site, signature=None), 400, "one_of_two", "/unsigned_why")
    answer = hand_over(site, signature=None, unsigned_why="Nobody was at home.")
    assert answer.status_code == 201
    assert Notice.objects.get(type="handover.unsigned").reason == "Nobody was at home."


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("label_shown", "Show the label"),
        ("care_sheet_given", "Give the care sheet"),
        ("tempered_told", "tempered glass fails"),
    ],
)
def test_what_was_not_told_keeps_the_stop_open(site: Site, name: str, says: str) -> None:
    site.until("handed_over")
    told = hand_over(site, **{name: False}).json()
    assert says in told["lacks"][0]
    stop = site.stop("handed_over")
    assert stop["state"] == "open"
    assert says in stop["do"][0]


def test_sent_twice_it_is_there_once_and_another_body_is_refused(site: Site) -> None:
    uuid, sent = fresh(), body(site)
    path = f"/api/v1/handovers/{uuid}/"
    assert site.tablet.put(path, sent).status_code == 201
    assert site.tablet.put(path, sent).status_code == 200
    assert_problem(site.tablet.put(path, sent | {"person": "Another"}), 409, "id_taken", "/id")
    assert Handover.objects.count() == 1


def test_a_png_keeps_its_pixels_and_nothing_else(site: Site) -> None:
    answer = put_signature(site.tablet, png(), "image/png")
    assert (answer.status_code, answer.json()["media_type"]) == (201, "image/png")
    got = site.tablet.get(answer.json()["file_url"])
    data = b"".join(got.streaming_content)
    assert b"87.6 W" not in data
    assert Image.open(io.BytesIO(data)).size == (40, 20)
    assert got["Content-Security-Policy"] == "default-src 'none'; sandbox"


def test_an_svg_keeps_its_strokes_and_nothing_else(site: Site) -> None:
    answer = put_signature(site.tablet, STROKES)
    assert answer.status_code == 201
    data = b"".join(site.tablet.get(answer.json()["file_url"]).streaming_content)
    assert b'd="M 10 60 c 20 -40 40 40 60 0"' in data
    assert b'viewBox="0 0 300 120"' in data
    assert b"blue" not in data
    assert put_signature(site.tablet, STROKES).status_code == 200


BAD = {
    "script": b'<svg viewBox="0 0 9 9"><script>alert(1)</script><path d="M0 0"/></svg>',
    "handler": b'<svg viewBox="0 0 9 9" onload="alert(1)"></svg>',
    "foreign": b'<svg viewBox="0 0 9 9"><foreignObject/><path d="M0 0"/></svg>',
    "image": b'<svg viewBox="0 0 9 9"><image href="http://example.com/"/></svg>',
    "doctype": b'<!DOCTYPE svg [<!ENTITY a "b">]><svg viewBox="0 0 9 9"><path d="M0 0"/></svg>',
    "no numbers": b'<svg viewBox="0 0 9 9"><path d="url(#x)"/></svg>',
    "no size": b'<svg><path d="M0 0"/></svg>',
    "nothing": b'<svg viewBox="0 0 9 9"></svg>',
    "no utf-8": b'<svg viewBox="0 0 9 9"><path d="M0 0"/></svg>\xff',
    "text": b"signed, O. F.",
    "many pixels": png((4000, 2000)),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_signature_is_refused(site: Site, name: str) -> None:
    answer = put_signature(site.tablet, BAD[name])
    assert answer.status_code == 415, answer.content
    assert not Signature.objects.exists()


def test_a_handler_on_a_stroke_does_not_survive(site: Site) -> None:
    data = b'<svg viewBox="0 0 9 9"><path onclick="alert(1)" d="M0 0L9 9" style="x"/></svg>'
    answer = put_signature(site.tablet, data)
    kept = b"".join(site.tablet.get(answer.json()["file_url"]).streaming_content)
    assert b"alert" not in kept
    assert b'<path d="M0 0L9 9"/>' in kept


def test_one_that_is_too_large_or_changed_on_the_way_is_refused(site: Site) -> None:
    assert_problem(put_signature(site.tablet, b"<" * 400_000), 413, "signature_too_large")
    path = f"/api/v1/signatures/{'0' * 64}/"
    answer = site.tablet.generic("PUT", path, STROKES, content_type="image/svg+xml")
    assert_problem(answer, 400, "digest_differs")


def test_a_job_is_handed_over_only_when_nothing_lacks(site: Site, office: Caller) -> None:
    Job.objects.update(state="cured")
    path = f"/api/v1/jobs/{site.booking.job.number}/"
    blocked = lambda: office.get(path).json()["next"]["blocked_by"]  # noqa: E731
    assert "nobody has signed for it" in blocked()[0]["why"]
    put_signature(site.tablet, STROKES)
    hand_over(site, care_sheet_given=False)
    assert blocked()[0]["why"].endswith("Give the care sheet.")
    move = office.post(f"{path}move/", {"action": "hand_over"}, seen="*")
    assert_problem(move, 409, "not_yet")
    hand_over(site)
    assert Job.objects.get().state == "handed_over"
    hand_over(site, care_sheet_given=False)  # a later record takes nothing back
    assert Job.objects.get().state == "handed_over"
