"""What would the story's photos show? Drawn by code and marked as invented: nobody photographed anything."""

import hashlib
import io
from collections.abc import Callable
from random import Random

from PIL import Image, ImageDraw

from contractor.api.callers import Caller
from jobs.surveys.photos import photo_keep

SIZE = (480, 320)
PAPER, INK, GLASS, EDGE, CARD = "#dfe8e6", "#144452", "#bfe3dd", "#2b7a78", "#c9a877"
Draw = Callable[[ImageDraw.ImageDraw], None]


def photo_drawn(*, by: Caller, title: str, draw: Draw | None = None) -> str:
    """Keep a picture that says what it stands for; returns its digest."""
    picture = Image.new("RGB", SIZE, PAPER)
    drawing = ImageDraw.Draw(picture)
    drawing.rectangle((20, 20, 460, 300), outline=INK, width=4)
    if draw is not None:
        draw(drawing)
    place = (32, 28) if draw is not None else (40, 140)
    drawing.text(place, f"Invented picture\n{title}", fill=INK, font_size=18 if draw else 24)
    stream = io.BytesIO()
    picture.save(stream, "PNG")
    digest = hashlib.sha256(stream.getvalue()).hexdigest()
    stream.seek(0)
    return photo_keep(by=by, digest=digest, stream=stream)[0].digest


def chipped_corner(drawing: ImageDraw.ImageDraw) -> None:
    """A panel on its rests, its lower corner broken out, splinters on the floor beneath."""
    drawing.polygon(
        [(150, 80), (400, 80), (400, 270), (206, 270), (192, 256), (176, 252), (150, 226)],
        fill=GLASS,
        outline=EDGE,
        width=3,
    )
    for x, y in ((230, 214), (214, 196), (176, 190), (238, 248)):
        drawing.line([(184, 248), (x, y)], fill=EDGE, width=1)
    chance = Random(7)  # noqa: S311
    for _ in range(60):
        x, y = chance.randint(140, 210), chance.randint(262, 286)
        drawing.ellipse((x, y, x + 3, y + 2), fill=EDGE)


def crushed_crate(drawing: ImageDraw.ImageDraw) -> None:
    """A crate with one corner pushed in, and the arrow that should point up."""
    drawing.polygon(
        [(110, 90), (420, 90), (420, 280), (170, 280), (140, 262), (128, 236), (110, 230)],
        fill=CARD,
        outline=INK,
        width=3,
    )
    for x in (190, 270, 350):
        drawing.line([(x, 90), (x, 280)], fill=INK, width=1)
    drawing.line([(386, 200), (386, 130), (374, 148)], fill=INK, width=4)
    drawing.line([(386, 130), (398, 148)], fill=INK, width=4)
    drawing.line([(128, 236), (176, 224), (170, 280)], fill=INK, width=2)


DRAWN: dict[str, Draw] = {"chipped corner": chipped_corner, "crushed crate": crushed_crate}
