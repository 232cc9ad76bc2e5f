"""What do the rules of version 5 say of a case: those of version 4, where they were found wanting put right?

What differs is asked of `House.rules` where it is worked out, so that the versions before stay as they were.
"""

from fitcheck.rules.asked_case import Case
from fitcheck.rules.parts import Parts, parts_of
from fitcheck.rules.sheet_doubted import sheet_doubted
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_2 import Borne
from fitcheck.rules.version_3 import with_made
from fitcheck.rules.version_4 import walls_asked

VERSION = "5"


def verdict_5(case: Case, digest: str) -> Verdict:
    """Answer by the rules of version 5.

    Source: each part's own; what the sheet leaves out is not judged.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].

    Returns:
        The verdict [-].
    """
    parts = parts_of(case, frames_only=True)

    def walls(made: Case, parts: Parts) -> tuple[Parts, Borne | None]:
        return sheet_doubted(case.sheet, *walls_asked(made, parts))

    return with_made(case, digest, VERSION, parts, walls)
