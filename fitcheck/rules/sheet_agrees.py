"""Which members of this sheet contradict each other, and what follows where it was published all the same?

What each kind of member is held against stands in the files beside this one. A sheet that contradicts
itself is refused when it is written. One that was published before stays readable: what rests on it is
not known.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache

from fitcheck.rules.compare import Asked
from fitcheck.rules.finding import Finding
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.sheet import Sheet, Size, applies
from fitcheck.rules.sheet_agrees_anchors import anchors_agree
from fitcheck.rules.sheet_agrees_backing import backing_agrees
from fitcheck.rules.sheet_agrees_cuts import cuts_agree
from fitcheck.rules.sheet_agrees_fixings import fixings_agree
from fitcheck.rules.sheet_agrees_hinges import hinges_agree
from fitcheck.rules.sheet_agrees_made import made_agrees
from fitcheck.rules.sheet_agrees_opening import opening_agrees
from fitcheck.rules.sheet_agrees_panels import panels_agree
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.sheet_said import ASK_THE_MAKER, Contradiction
from fitcheck.rules.strict import InputError, InputErrors

RULE = "sheet.agrees"
_QUESTION = "Do the members of the kit's sheet agree with each other?"
_AGREE = "members that agree"
_PARTS = (
    opening_agrees,
    backing_agrees,
    cuts_agree,
    fixings_agree,
    anchors_agree,
    hinges_agree,
    panels_agree,
    made_agrees,
)


@lru_cache(maxsize=256)
def contradictions(sheet: Sheet) -> tuple[Contradiction, ...]:
    """Return every contradiction of a sheet; worked out once for a sheet.

    Source: the kit's own sheet; geometry; house settings where strips, rails and blades need room.

    Args:
        sheet: the rule sheet [-].

    Returns:
        The contradictions; none when its members agree [-].
    """
    return tuple(found for part in _PARTS for found in part(sheet))


def contradicted(sheet: Sheet, size: Size | None) -> tuple[Contradiction, ...]:
    """Return the contradictions of a sheet that concern a size, all of them when no size is known.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].

    Returns:
        The contradictions [-].
    """
    return tuple(one for one in contradictions(sheet) if applies(one.sizes, size))


def sheet_to_write(body: object) -> Sheet:
    """Read a rule sheet that is to be published, or that a question brings along.

    Args:
        body: the sheet as plain JSON [-].

    Returns:
        The sheet [-].

    Raises:
        InputErrors: one entry per mistake and, once there is none, one per contradiction.
    """
    sheet = sheet_parse(body)
    refused = refusals(sheet, body)
    if refused:
        raise InputErrors(refused)
    return sheet


def refusals(sheet: Sheet, body: object) -> list[InputError]:
    """Return the contradictions of a sheet as mistakes of the body that it was read from.

    Args:
        sheet: the rule sheet [-].
        body: the sheet as plain JSON [-].

    Returns:
        One mistake per contradiction, at its member; the hint names the other members [-].
    """
    return [_refused(one, body) for one in contradictions(sheet)]


def _refused(one: Contradiction, body: object) -> InputError:
    first, *others = (sent for pointer in one.pointers if (sent := _as_sent(pointer, body)))
    hint = f"{one.hint} See also {', '.join(others)}." if others else one.hint
    return InputError(first, one.code, one.detail, hint)


def _as_sent(pointer: str, body: object) -> str | None:
    """Return where a member was sent, a fixing's height alone or in a list of one; None when it was not."""
    listed = pointer.replace("/height", "/heights/0") if "/fixings/" in pointer else pointer
    return next((one for one in (pointer, listed) if _stands(one, body)), None)


def _stands(pointer: str, body: object) -> bool:
    inner: object = body
    for step in pointer.split("/")[1:]:
        if isinstance(inner, Mapping):
            inner = inner.get(step)
        elif isinstance(inner, list | tuple) and int(step) < len(inner):
            inner = inner[int(step)]
        else:
            return False
    return inner is not None


def agree_findings(sheet: Sheet, found: Iterable[Contradiction]) -> tuple[Finding, ...]:
    """Return one finding for each contradiction: which of its members is right, is not known.

    Args:
        sheet: the rule sheet [-].
        found: its contradictions [-].

    Returns:
        The findings, unknown [-].
    """
    return tuple(_finding(sheet, one) for one in found)


@lru_cache(maxsize=256)
def _finding(sheet: Sheet, one: Contradiction) -> Finding:
    do = ASK_THE_MAKER.format(what=one.detail)
    asked = Asked(RULE, _QUESTION, "kit sheet", sheet.source(one.page), "")
    return spoken_finding(asked, None, _AGREE, "unknown", do)


def not_relied_on(finding: Finding, do: str) -> Finding:
    """Return a finding that rests on members that contradict each other: unknown, without its number.

    Args:
        finding: what the rules said [-].
        do: whom to ask what [-].

    Returns:
        The finding, unknown [-].
    """
    return replace(
        finding,
        reading=None,
        margin=None,
        guard_nm=None,
        chance=None,
        state="unknown",
        do=do,
    )
