"""What must the office know this morning? Today's visits, what is late, what is near."""

from dataclasses import dataclass
from datetime import datetime

from jobs.reminders.digest_sections import SECTIONS

MOST = 100


@dataclass(frozen=True, slots=True)
class Line:
    """One thing to know: under which heading, about which row, in words."""

    section: str
    text: str
    about: str = ""


def digest_lines(*, now: datetime, most: int = MOST) -> list[Line]:
    """Gather the day's lines by section; a long section ends by saying how many are left out."""
    found: list[Line] = []
    for section, gather in SECTIONS:
        lines = [Line(section, text, about) for text, about in gather(now)]
        found += lines[:most]
        if len(lines) > most:
            found.append(Line(section, f"and {len(lines) - most} more"))
    return found


def digest_headline(lines: list[Line]) -> str:
    """Say the digest in one line: how many of each."""
    counts = {name: sum(one.section == name for one in lines) for name, _ in SECTIONS}
    told = [f"{name.lower()}: {count}" for name, count in counts.items() if count]
    return "; ".join(told) or "nothing is due"


def digest_text(lines: list[Line]) -> str:
    """Write the digest as plain text that a telephone shows without scrolling sideways."""
    parts = []
    for name, _ in SECTIONS:
        own = [one for one in lines if one.section == name]
        if own:
            parts.append("\n".join([name.upper(), *(f"- {_about(one)}{one.text}" for one in own)]))
    return "\n\n".join(parts) or "Nothing is due today."


def _about(line: Line) -> str:
    return f"{line.about}: " if line.about else ""
