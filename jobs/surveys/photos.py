"""Is this a photo, and may it be kept? Decided by decoding; position data is dropped."""

import hashlib
import io
from typing import IO, Any, TypeVar

from django.conf import settings
from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from PIL import Image, ImageOps

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from jobs.surveys.models import Photo

FORMATS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
SUFFIX = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}
# Our own limit is checked from the header, before any pixel is decoded; the library's higher one
# would only hide it behind a warning.
Image.MAX_IMAGE_PIXELS = None
Row = TypeVar("Row", bound=Any)


def photo_keep(*, by: Caller, digest: str, stream: IO[bytes]) -> tuple[Photo, bool]:
    """Read, check, re-encode and keep one photo; returns it and whether it is new.

    Writes the file and its row, announces `photo.received`.

    Raises:
        Problem: too large, not an image, or not what its digest says.
    """
    known = Photo.objects.filter(pk=digest).first()
    if known is not None:
        return known, False
    most = settings.PHOTO_MOST_BYTES
    large = Problem(
        "photo_too_large",
        f"The photo is larger than {most // 1024 // 1024} MB.",
        status=413,
        hint="Send it smaller: 2048 pixels on the long side are plenty.",
    )
    data = image_read(stream=stream, digest=digest, most=most, large=large)
    kind, clean, size = image_plain(data, most_pixels=settings.PHOTO_MOST_PIXELS)
    photo = Photo(pk=digest, media_type=FORMATS[kind], width=size[0], height=size[1], caller=by.key)
    return image_keep(by=by, row=photo, suffix=SUFFIX[kind], clean=clean, type="photo.received")


def photo_of_form(*, by: Caller, upload: Any) -> str:
    """Keep a photo that came with a browser's form, and return its name."""
    digest = hashlib.sha256(upload.read()).hexdigest()
    upload.seek(0)
    return str(photo_keep(by=by, digest=digest, stream=upload)[0].digest)


def image_read(*, stream: IO[bytes], digest: str, most: int, large: Problem) -> bytes:
    """Read what was sent under a digest, and no more of it than may be.

    Raises:
        Problem: `large`, or it is not what its digest says.
    """
    data = stream.read(most + 1)
    if len(data) > most:
        raise large
    if hashlib.sha256(data).hexdigest() != digest:
        raise Problem(
            "digest_differs",
            "The body's SHA-256 is not the one in the address; it was cut short or changed on the way.",
            hint="Send it again.",
        )
    return data


def image_keep(*, by: Caller, row: Row, suffix: str, clean: bytes, type: str) -> tuple[Row, bool]:
    """Keep the file and its row; returns the row that is here, and whether it is new. Announces `type`."""
    row.file.save(f"{row.pk}.{suffix}", ContentFile(clean), save=False)
    try:
        with transaction.atomic():
            row.save(force_insert=True)
            notice_record(by=by, type=type, about=row.pk[:16])
    except IntegrityError:  # its twin was quicker
        row.file.delete(save=False)
        return row.__class__._default_manager.get(pk=row.pk), False
    return row, True


def image_plain(data: bytes, *, most_pixels: int) -> tuple[str, bytes, tuple[int, int]]:
    """Decode within a limit of pixels and encode anew without any metadata.

    Raises:
        Problem: it is no image, or too many pixels.
    """
    try:
        image = Image.open(io.BytesIO(data), formats=list(FORMATS))
        kind, pixels = str(image.format), image.width * image.height
        plain = _upright(image) if pixels <= most_pixels else None
    except Exception as error:  # a damaged file breaks its decoder in every way there is
        raise _not_a_photo("not_a_photo", "The body is not a JPEG, PNG or WebP image.") from error
    if plain is None:
        text = f"{image.width} × {image.height} pixels are too many."
        raise _not_a_photo("photo_too_many_pixels", text)
    out = io.BytesIO()
    plain.save(out, kind, **({"quality": 88} if kind != "PNG" else {}))
    return kind, out.getvalue(), plain.size


def _upright(image: Image.Image) -> Image.Image:
    """Turn the picture as it was held, and keep its pixels alone."""
    image.load()
    ImageOps.exif_transpose(image, in_place=True)
    plain = image.convert(image.mode if image.mode in {"RGB", "L"} else "RGB")
    plain.info.clear()
    return plain


def _not_a_photo(code: str, text: str) -> Problem:
    return Problem(code, text, status=415, hint="Send the photo itself as JPEG, PNG or WebP.")
