"""Is a photo kept once, without where it was taken, and is everything else refused in time?"""

import hashlib
import io
import struct
import tracemalloc
import zlib
from typing import Any

import pytest
from PIL import Image

from contractor.notices.models import Notice
from jobs.surveys.models import Photo
from tests.clients import Caller, assert_problem, twin
from tests.factories import survey_case
from tests.threads import in_parallel

SECRET = "Marrowgate bathroom"
FORMATS = ("JPEG", "PNG", "WEBP")


def picture(kind: str = "JPEG", red: int = 10, **how: Any) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (60, 40), (red, 120, 90)).save(out, kind, **how)
    return out.getvalue()


def with_position(kind: str) -> bytes:
    """A photo that says where it was taken, and is to be turned a quarter."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010E] = SECRET
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 28.0, 38.0), 3: "W", 4: (0.0, 0.0, 5.0)})
    return picture(kind, exif=exif)


def digest_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def put(
    caller: Caller,
    data: bytes,
    *,
    digest: str | None = None,
    media: str = "image/jpeg",
    **extra: Any,
) -> Any:
    path = f"/api/v1/photos/{digest or digest_of(data)}/"
    return caller.generic("PUT", path, data, content_type=media, **extra)


def kept_file() -> bytes:
    with Photo.objects.get().file.open() as file:
        data: bytes = file.read()
    return data


@pytest.mark.parametrize("kind", FORMATS)
def test_a_photo_is_kept_and_given_out(tablet: Caller, kind: str) -> None:
    data = picture(kind)
    reply = put(tablet, data)
    assert reply.status_code == 201
    assert (reply.data["width"], reply.data["height"]) == (60, 40)
    file = tablet.get(reply.data["file_url"])
    assert file["Content-Type"] == f"image/{kind.lower()}"
    assert file["X-Content-Type-Options"] == "nosniff"
    assert Image.open(io.BytesIO(b"".join(file.streaming_content))).format == kind


@pytest.mark.parametrize("kind", FORMATS)
def test_the_kept_photo_stands_upright_and_tells_no_place(tablet: Caller, kind: str) -> None:
    data = with_position(kind)
    assert dict(Image.open(io.BytesIO(data)).getexif().get_ifd(0x8825))
    reply = put(tablet, data)
    assert (reply.data["width"], reply.data["height"]) == (40, 60)
    kept = kept_file()
    image = Image.open(io.BytesIO(kept))
    assert dict(image.getexif()) == {}
    assert "xmp" not in image.info
    assert SECRET.encode() not in kept


def test_a_comment_in_the_file_is_dropped_too(tablet: Caller) -> None:
    put(tablet, picture("JPEG", comment=SECRET.encode()))
    assert SECRET.encode() not in kept_file()


def test_putting_a_photo_twice_is_harmless(tablet: Caller) -> None:
    data = picture()
    first, second = put(tablet, data), put(tablet, data)
    assert (first.status_code, second.status_code) == (201, 200)
    assert second.data == first.data
    assert Photo.objects.count() == 1
    assert Notice.objects.filter(type="photo.received").count() == 1


@pytest.mark.django_db(transaction=True)
def test_a_photo_put_by_two_at_once_is_kept_once(tablet: Caller) -> None:
    data = picture(red=200)
    replies = in_parallel(4, lambda n: put(twin(tablet), data))
    assert sorted(one.status_code for one in replies)[-1] == 201
    assert {one.status_code for one in replies} <= {200, 201}
    photo = Photo.objects.get()
    folder = photo.file.name.rpartition("/")[0]
    files = [one for one in photo.file.storage.listdir(folder)[1] if photo.digest in one]
    assert files == [photo.file.name.rpartition("/")[2]]


def test_a_photo_that_was_cut_short_on_the_way_is_refused(tablet: Caller) -> None:
    data = picture()
    reply = put(tablet, data[:-20], digest=digest_of(data))
    assert_problem(reply, 400, "digest_differs")
    assert not Photo.objects.exists()


def test_a_text_that_calls_itself_a_photo_is_refused(tablet: Caller) -> None:
    data = b"This is a shopping list named bathroom.jpg"
    assert_problem(put(tablet, data), 415, "not_a_photo")
    assert not Photo.objects.exists()


def test_bytes_without_a_name_are_judged_by_what_they_are(tablet: Caller) -> None:
    nameless = "application/octet-stream"
    assert put(tablet, picture(), media=nameless).status_code == 201
    assert_problem(put(tablet, b"no picture", media=nameless), 415, "not_a_photo")


@pytest.mark.parametrize("media", ["text/plain", "application/json", "text/html"])
def test_a_photo_sent_as_something_else_is_refused(tablet: Caller, media: str) -> None:
    assert_problem(put(tablet, picture(), media=media), 415, "unsupported_media_type")


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF"])
def test_other_formats_are_refused(tablet: Caller, kind: str) -> None:
    assert_problem(put(tablet, picture(kind)), 415, "not_a_photo")


class Endless(io.RawIOBase):
    """A body that is made as it is read, and counts what was taken of it."""

    def __init__(self, size: int) -> None:
        self.left, self.taken = size, 0

    def read(self, size: int = -1) -> bytes:
        size = self.left if size is None or size < 0 else min(size, self.left)
        self.left -= size
        self.taken += size
        return b"\xff" * size


def test_thirty_megabytes_are_refused_before_they_are_in_memory(tablet: Caller) -> None:
    body = Endless(30 * 1024 * 1024)
    extra = {"wsgi.input": body, "CONTENT_LENGTH": str(body.left)}
    tracemalloc.start()
    try:
        reply = put(tablet, b"", digest="0" * 64, **extra)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert_problem(reply, 413, "photo_too_large")
    assert body.taken <= 15 * 1024 * 1024 + 1
    assert peak < 40 * 1024 * 1024, peak


def header_of(width: int, height: int) -> bytes:
    """A PNG that says it is so large, and holds next to nothing."""

    def chunk(name: bytes, data: bytes) -> bytes:
        crc = struct.pack(">I", zlib.crc32(name + data))
        return struct.pack(">I", len(data)) + name + data + crc

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    start = b"\x89PNG\r\n\x1a\n"
    return start + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(8200, 5000), (13_000, 13_000), (20_000, 20_000)])
def test_too_many_pixels_are_refused_from_the_header(tablet: Caller, size: tuple[int, int]) -> None:
    tracemalloc.start()
    try:
        reply = put(tablet, header_of(*size), media="image/png")
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert f"{size[0]}" in assert_problem(reply, 415, "photo_too_many_pixels")["detail"]
    assert peak < 40 * 1024 * 1024, peak


@pytest.mark.parametrize("kind", FORMATS)
def test_no_damage_to_a_file_breaks_the_service(tablet: Caller, kind: str) -> None:
    whole = with_position(kind)
    statuses = set()
    for at in range(0, len(whole), max(1, len(whole) // 60)):
        for damaged in (whole[:at], whole[:at] + b"\xff\x00\xff" + whole[at + 3 :]):
            statuses.add(put(tablet, damaged).status_code)
    assert statuses <= {201, 200, 415}
    assert 415 in statuses


def test_a_survey_lists_the_photos_still_to_be_put(tablet: Caller) -> None:
    case = survey_case("fits")
    data = picture()
    case.body["photos"] = [digest_of(data), "1" * 64]
    reply = tablet.post("/api/v1/surveys/", case.body, key=None)
    assert reply.data["missing_photos"] == case.body["photos"]
    put(tablet, data)
    assert tablet.get(reply.data["url"]).data["missing_photos"] == ["1" * 64]
    again = tablet.post("/api/v1/surveys/", case.body, key=None)
    assert again.data["missing_photos"] == ["1" * 64]


@pytest.mark.parametrize("name", ["x", "A" * 64, "0" * 63])
def test_a_photo_is_named_by_its_digest(tablet: Caller, name: str) -> None:
    case = survey_case("fits")
    reply = tablet.post("/api/v1/surveys/", {**case.body, "photos": [name]}, key=None)
    assert_problem(reply, 400, "not_a_digest", "/photos/0")


def test_the_yard_puts_photos_of_what_came_and_a_program_none(
    yard: Caller, scheduler: Caller
) -> None:
    assert put(yard, picture()).status_code == 201
    assert_problem(put(scheduler, picture()), 403, "role_not_allowed")
