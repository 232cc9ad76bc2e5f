"""How does a text stand in a cell so that no spreadsheet takes it for a formula, and comes back unchanged?

Source: OWASP, CSV Injection (from memory): a cell that starts with = + - @, tab or return is run as a
formula by spreadsheets; an apostrophe before it makes it text.
"""

import re

STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
NUMBER = re.compile(r"-\d+(\.\d+)?")
QUOTE = "'"
# Source: ECMA-376, 22.9.2.19 ST_Xstring (from memory): what XML cannot hold stands as _xHHHH_.
UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")
WRITTEN = re.compile("_x([0-9A-Fa-f]{4})_")


def guarded(text: str) -> str:
    """Put an apostrophe before a text that would be run, or that looks as if it had one already."""
    runs = text.startswith(STARTS) and not NUMBER.fullmatch(text)
    return QUOTE + text if runs or _looks_guarded(text) else text


def unguarded(text: str) -> str:
    """Take the apostrophe away that `guarded` has put there, and no other."""
    return text[1:] if _looks_guarded(text) else text


def _looks_guarded(text: str) -> bool:
    return text.startswith(QUOTE) and text[1:].startswith((*STARTS, QUOTE))


def to_workbook(text: str) -> str:
    """Write a text as a workbook's cell holds it."""
    return UNWRITABLE.sub(lambda found: f"_x{ord(found[0]):04X}_", text)


def from_workbook(text: str) -> str:
    """Read a text out of a workbook's cell."""
    return WRITTEN.sub(lambda found: chr(int(found[1], 16)), text)
