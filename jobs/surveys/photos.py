"""Is this a photo, and may it be kept? Decided by decoding; position data is dropped."""

import hashlib
import io
import warnings
from typing import IO

from django.conf import settings
from django.core.files.base import ContentFile
from django.db import transaction
from PIL import Image, ImageOps, UnidentifiedImageError

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from jobs.surveys.models import Photo

FORMATS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
SUFFIX = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}


def photo_keep(*, by: Caller, digest: str, stream: IO[bytes]) -> tuple[Photo, bool]:
    """Read, check, re-encode and keep one photo; returns it and whether it is new.

    Writes the file and its row, announces `photo.received`.

    Raises:
        Problem: too large, not an image, or not what its digest says.
    """
    known = Photo.objects.filter(pk=digest).first()
    if known is not None:
        return known, False
    data = _limited(stream)
    if hashlib.sha256(data).hexdigest() != digest:
        raise Problem(
            "digest_differs",
            "The body's SHA-256 is not the one in the address; it was cut short or changed on the way.",
            hint="Send the photo again.",
        )
    kind, clean, size = _decoded(data)
    with transaction.atomic():
        photo = Photo(
            pk=digest, media_type=FORMATS[kind], width=size[0], height=size[1], caller=by.key
        )
        photo.file.save(f"{digest}.{SUFFIX[kind]}", ContentFile(clean), save=False)
        photo.save(force_insert=True)
        notice_record(by=by, type="photo.received", about=digest[:16])
    return photo, True


def _limited(stream: IO[bytes]) -> bytes:
    most = settings.PHOTO_MOST_BYTES
    data = stream.read(most + 1)
    if len(data) > most:
        raise Problem(
            "photo_too_large",
            f"The photo is larger than {most // 1024 // 1024} MB.",
            status=413,
            hint="Send it smaller: 2048 pixels on the long side are plenty.",
        )
    return data


def _decoded(data: bytes) -> tuple[str, bytes, tuple[int, int]]:
    """Decode within the pixel limit and encode anew without any of its metadata."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            image = Image.open(io.BytesIO(data), formats=list(FORMATS))
            if image.width * image.height > settings.PHOTO_MOST_PIXELS:
                raise _not_a_photo(
                    "photo_too_many_pixels", f"{image.width} × {image.height} pixels are too many."
                )
            kind = str(image.format)
            turned = _upright(image)
    except (UnidentifiedImageError, OSError, Warning, ValueError, SyntaxError) as error:
        raise _not_a_photo("not_a_photo", "The body is not a JPEG, PNG or WebP image.") from error
    out = io.BytesIO()
    turned.save(out, kind, **({"quality": 88} if kind != "PNG" else {}))
    return kind, out.getvalue(), turned.size


def _upright(image: Image.Image) -> Image.Image:
    turned = ImageOps.exif_transpose(image)
    mode = turned.mode if turned.mode in {"RGB", "L"} else "RGB"
    plain = Image.new(mode, turned.size)
    plain.paste(turned.convert(mode))
    return plain


def _not_a_photo(code: str, text: str) -> Problem:
    return Problem(code, text, status=415, hint="Send the photo itself as JPEG, PNG or WebP.")
