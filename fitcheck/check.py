"""Given readings and a rule sheet, does the kit fit, and what follows from that?"""

import hashlib
import json
from collections.abc import Mapping
from functools import lru_cache

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import InputError, InputErrors, Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.verdict import Verdict

__all__ = ["InputError", "InputErrors", "Verdict", "check", "inputs_digest"]

_INPUTS = ("opening", "readings", "zones", "sheet", "size", "house")


def check(inputs: Mapping[str, object], sheet: Sheet | None = None) -> Verdict:
    """Answer for one opening and one kit: state, findings, cuts, fixings, panels, cautions.

    Args:
        inputs: opening, readings, zones, sheet, size and house as plain JSON [-].
        sheet: the same sheet already parsed, to save parsing it again [-].

    Returns:
        The verdict; the same inputs give the same verdict, byte for byte [-].

    Raises:
        InputErrors: the inputs themselves are malformed; one entry per mistake.
    """
    own = Strict.open(inputs, _INPUTS, "", errors := [])
    survey = survey_read(own)
    house = house_read(own)
    sheet = sheet or _sheet(own)
    Strict({}, "", errors).finish()
    return Verdict(
        RULES_VERSION,
        inputs_digest(inputs),
        "unknown",
        None,
        "",
        (),
        (),
        (),
        (),
        (),
        (),
        2,
        (),
        None,
        (),
        (),
    )


def inputs_digest(inputs: Mapping[str, object]) -> str:
    """Return the digest of the inputs in canonical JSON.

    Args:
        inputs: plain JSON [-].

    Returns:
        "sha256:" and 64 hexadecimal digits [-].
    """
    return "sha256:" + hashlib.sha256(_canonical(inputs).encode()).hexdigest()


def _canonical(value: object) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def _sheet(own: Strict) -> Sheet | None:
    try:
        return _sheet_cached(_canonical(own.members.get("sheet")))
    except InputErrors as wrong:
        own.errors += [
            InputError(f"{own.pointer}/sheet{e.pointer}", e.code, e.detail, e.hint)
            for e in wrong.errors
        ]
    return None


@lru_cache(maxsize=256)
def _sheet_cached(canonical: str) -> Sheet:
    return sheet_parse(json.loads(canonical))
