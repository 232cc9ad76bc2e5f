"""Is this a signature, and may it be kept? Decoded, limited, and written anew without anything else.

A PNG is decoded to its pixels; an SVG is read by a grammar of strokes and nothing but its strokes is kept.
"""

import re
from typing import IO

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from jobs.handovers.models import Signature
from jobs.surveys.photos import image_keep, image_plain, image_read

MOST_BYTES = 300 * 1024
MOST_PIXELS = 4_000_000
MOST_STROKES = 500
SVG = re.compile(
    r"\s*(?:<\?xml[^<>]*\?>)?\s*<svg\b([^<>]*)>((?:\s*<(?:path|polyline|circle)\b[^<>]*"
    r"(?:/>|>\s*</(?:path|polyline|circle)>))*)\s*</svg>\s*"
)
STROKE = re.compile(r"<(path|polyline|circle)\b([^<>]*?)/?>")
ATTRIBUTE = re.compile(r"""([A-Za-z][\w:-]*)\s*=\s*(?:"([^"<>&]*)"|'([^'<>&]*)')""")
NUMBERS = re.compile(r"[MmLlHhVvCcSsQqTtAaZz0-9eE\s.,+-]{1,100000}")
NUMBER = re.compile(r"-?\d{1,6}(?:\.\d{1,6})?")
SHAPES = {"path": ("d",), "polyline": ("points",), "circle": ("cx", "cy", "r")}


def signature_keep(*, by: Caller, digest: str, stream: IO[bytes]) -> tuple[Signature, bool]:
    """Check, clean and keep one signature; returns it and whether it is new.

    Writes the file and its row, announces `signature.received`.

    Raises:
        Problem: too large, neither PNG nor strokes of an SVG, or not what its digest says.
    """
    known = Signature.objects.filter(pk=digest).first()
    if known is not None:
        return known, False
    text = f"A signature has at most {MOST_BYTES // 1024} kB."
    large = Problem("signature_too_large", text, status=413, hint="Send it smaller.")
    data = image_read(stream=stream, digest=digest, most=MOST_BYTES, large=large)
    media_type, suffix, clean = _clean(data)
    row = Signature(pk=digest, media_type=media_type, caller=by.key)
    return image_keep(by=by, row=row, suffix=suffix, clean=clean, type="signature.received")


def _clean(data: bytes) -> tuple[str, str, bytes]:
    if data.lstrip()[:1] == b"<":
        return "image/svg+xml", "svg", strokes(data).encode()
    kind, clean, _ = image_plain(data, most_pixels=MOST_PIXELS)
    if kind != "PNG":
        raise not_a_signature(f"A signature is a PNG or an SVG, not a {kind}.")
    return "image/png", "png", clean


def strokes(data: bytes) -> str:
    """Write an SVG anew from its strokes alone; anything else in it is refused.

    Raises:
        Problem: it holds more than paths, polylines and circles, or a value that is no number.
    """
    try:
        whole = SVG.fullmatch(data.decode("utf-8"))
    except UnicodeDecodeError:
        whole = None
    if whole is None:
        raise not_a_signature("This SVG holds more than paths, polylines and circles.")
    box = _box(_attributes(whole[1]))
    drawn = [_stroke(name, _attributes(rest)) for name, rest in STROKE.findall(whole[2])]
    if not drawn:
        raise not_a_signature("Nothing is drawn in this SVG.")
    if len(drawn) > MOST_STROKES:
        raise not_a_signature(f"More than {MOST_STROKES} strokes are no signature.")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" fill="none" stroke="#000" '
        f'stroke-width="2" stroke-linecap="round" stroke-linejoin="round">{"".join(drawn)}</svg>'
    )


def _attributes(text: str) -> dict[str, str]:
    return {name: one or two for name, one, two in ATTRIBUTE.findall(text)}


def _box(own: dict[str, str]) -> str:
    parts = own.get("viewBox", "").replace(",", " ").split()
    if not parts:
        sizes = [own.get(name, "").removesuffix("px") for name in ("width", "height")]
        parts = ["0", "0", *sizes]
    if len(parts) == 4 and all(NUMBER.fullmatch(one) for one in parts):
        return " ".join(parts)
    raise not_a_signature("This SVG does not say how large it is.")


def _stroke(name: str, own: dict[str, str]) -> str:
    values = {one: own.get(one, "") for one in SHAPES[name]}
    if not all(NUMBERS.fullmatch(value) for value in values.values()):
        raise not_a_signature(f"A {name} of this SVG is not drawn in plain numbers.")
    drawn = " ".join(f'{one}="{" ".join(value.split())}"' for one, value in values.items())
    return f"<{name} {drawn}/>"


def not_a_signature(text: str) -> Problem:
    """Say what a signature may be."""
    hint = "Send a PNG, or an SVG of plain strokes, of at most 300 kB."
    return Problem("not_a_signature", text, status=415, hint=hint)
