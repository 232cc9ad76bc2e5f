"""Which characters can our fonts print, and what is printed for those they cannot?"""

import struct
import unicodedata
from functools import lru_cache
from pathlib import Path

FONTS = Path(__file__).parent / "fonts"
DRAWN = ("*.ttf", "*.otf", "*.ttc")
# Joiners and selectors shape their neighbours and have no picture of their own.
PASSED = frozenset([0x09, 0x0A, 0x200B, 0x200C, 0x200D, 0x2060, 0xFE0E, 0xFE0F, 0x00AD])
# Marks that turn the direction of text could make a note read as something it does not say.
TURNING = frozenset([*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C])


def printable(text: str, folder: str = "") -> str:
    """Return the text with every unprintable character shown by its code, such as ‹U+0007›.

    `folder` holds more fonts than the bundled ones; empty for none.
    """
    return text.translate(_shown(folder))


class _Shown(dict[int, str]):
    """Remembers what each character is printed as; a packet asks for the same few thousands."""

    def __init__(self, folder: str) -> None:
        super().__init__()
        self.folder = folder

    def __missing__(self, code: int) -> str:
        plain = code in PASSED or _plain(code, self.folder)
        self[code] = chr(code) if plain else f"‹U+{code:04X}›"
        return self[code]


@lru_cache(maxsize=2)
def _shown(folder: str) -> _Shown:
    return _Shown(folder)


def _plain(code: int, folder: str) -> bool:
    if code in TURNING or unicodedata.category(chr(code)) in ("Cc", "Cs", "Co", "Cn"):
        return False
    return code not in (0xFEFF, 0xFFFE) and code in covered(folder)


def font_folders(folder: str) -> list[Path]:
    """Return where fonts are: the bundled ones, then the folder that somebody has named.

    Raises:
        ValueError: the folder is not there.
    """
    if folder and not Path(folder).is_dir():
        raise ValueError(f"FONTS_DIR is {folder!r}: there is no such folder")
    return [FONTS, Path(folder)] if folder else [FONTS]


@lru_cache(maxsize=2)
def covered(folder: str = "") -> frozenset[int]:
    """Return every code point that a bundled font, or one in the folder, has a glyph for."""
    points: set[int] = set()
    for place in font_folders(folder):
        for path in sorted(one for kind in DRAWN for one in place.rglob(kind)):
            points |= _points_in(path.read_bytes())
    return frozenset(points)


def _points_in(file: bytes) -> set[int]:
    """Return the code points of a font, or of the first of a collection, whose fonts share them."""
    start = struct.unpack_from(">I", file, 12)[0] if file[:4] == b"ttcf" else 0
    return _points_of(file, start)


def _points_of(font: bytes, at: int) -> set[int]:
    """Return the code points of one font's character map (OpenType `cmap`, formats 4 and 12)."""
    start = _table_start(font, at, b"cmap")
    (count,) = struct.unpack_from(">H", font, start + 2)
    points: set[int] = set()
    for i in range(count):
        (offset,) = struct.unpack_from(">I", font, start + 4 + 8 * i + 4)
        points |= _subtable(font, start + offset)
    return points


def _table_start(font: bytes, at: int, tag: bytes) -> int:
    (tables,) = struct.unpack_from(">H", font, at + 4)
    for i in range(tables):
        name, _, offset, _ = struct.unpack_from(">4sIII", font, at + 12 + 16 * i)
        if name == tag:
            return int(offset)
    raise ValueError(f"the font has no {tag.decode()} table")


def _subtable(font: bytes, at: int) -> set[int]:
    (kind,) = struct.unpack_from(">H", font, at)
    if kind == 12:
        (groups,) = struct.unpack_from(">I", font, at + 12)
        spans = [struct.unpack_from(">II", font, at + 16 + 12 * i) for i in range(groups)]
    elif kind == 4:
        half = struct.unpack_from(">H", font, at + 6)[0] // 2
        ends = struct.unpack_from(f">{half}H", font, at + 14)
        starts = struct.unpack_from(f">{half}H", font, at + 16 + 2 * half)
        spans = [s for s in zip(starts, ends, strict=True) if s[0] != 0xFFFF]
    else:
        return set()
    return {point for first, last in spans for point in range(first, last + 1)}
