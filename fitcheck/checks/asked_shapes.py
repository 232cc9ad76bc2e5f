"""What is sent when a question is about an opening: readings, zones, a kit, the firm's settings?"""

from typing import Any

from fitcheck.checks.members import (
    LENGTH,
    Field,
    anything,
    choice,
    flag,
    length,
    number,
    shape,
    text,
    whole,
)
from fitcheck.rules import survey as words

TOOL = shape(
    "AskedTool",
    "What a reading was taken with; it decides the uncertainty.",
    kind=choice(words.TOOLS),
    accuracy_class=choice(words.ACCURACY_CLASSES, "Default: none.", required=False),
    graduation=length("The smallest mark."),
    hook=flag("The end of the tape is a hook. Default: false.", required=False),
)
READING = shape(
    "AskedReading",
    "One quantity, at one place, by one tool and person.",
    id=text("Any name; findings refer to it."),
    quantity=choice(words.QUANTITIES),
    side=choice(words.SIDES, "Default: none.", required=False),
    height=length("Above the sill.", required=False, allow_null=True),
    over=length("Lean is read over this height.", required=False, allow_null=True),
    value=text(LENGTH),
    tool=TOOL(),
    read_by=text("Who read it.", required=False),
    taken_at=text("When.", required=False),
)
ZONE = shape(
    "AskedZone",
    "A part of a wall or sill with one build-up.",
    id=text("Any name."),
    surface=choice(words.SURFACES),
    from_height=length(),
    to_height=length(),
    finish=choice(words.FINISHES),
    finish_thickness=length(required=False, allow_null=True),
    backing=choice(words.BACKINGS, required=False),
    backing_thickness=length(required=False, allow_null=True),
    fit=choice(words.FITS, "Of the backing on the structure.", required=False),
    structure=choice(words.STRUCTURES, required=False),
    membrane=choice(words.MEMBRANES, required=False),
    species=choice(words.SPECIES, "Of a wood stud or blocking.", required=False),
    mils=text("Of a steel stud, as printed on it: `33 mil`.", required=False),
    grouted=choice(words.GROUTED, "Whether the cells of a block are.", required=False),
    unit=length("How thick the block is, nominally: `8 in`.", required=False, allow_null=True),
)
OPENING = shape(
    "AskedOpening",
    "The hole in the bathroom.",
    enclosure=choice(words.ENCLOSURES),
    stands_on=choice(words.STANDS_ON),
    shower_head_side=choice(words.SHOWER_HEAD_SIDES, "Default: unknown.", required=False),
    year_built=whole("Of the house.", required=False, allow_null=True),
)
HOUSE = shape(
    "AskedHouse",
    "The firm's settings; each has its default.",
    mark=whole("Parts of an inch: 16 or 32.", required=False),
    safe_reach=length("How deep a wall may be drilled at all.", required=False),
    guard_factor=number("Of the guard band.", required=False),
    agreement_factor=number("For two readings of one thing.", required=False),
    lift_convention=choice(words.LIFT_CONVENTIONS, required=False),
)


def house() -> Field:
    """The firm's settings."""
    return HOUSE(required=False, help_text="The firm's settings; each has its default.")


def readings(**how: Any) -> Field:
    """Readings of the opening."""
    return READING(many=True, **how)


def case_members() -> dict[str, Field]:
    """What a verdict is asked with: kit or sheet, opening, readings, zones, size, settings."""
    return {
        "kit": text("`slug`, or `slug:2` for one version; or send `sheet`.", required=False),
        "sheet": anything("A rule sheet, as `/api/v1/sheets/` takes it.", required=False),
        "opening": OPENING(),
        "readings": readings(required=False),
        "zones": ZONE(many=True, required=False),
        "size": text("Default: the size that the widths choose.", required=False, allow_null=True),
        "house": house(),
    }
