"""What do the rules of version 1 say of a case?

Kept verdicts of this version are worked out again by it; its answers never change.
"""

from fitcheck.rules.asked_case import Case
from fitcheck.rules.gathered import verdict_of
from fitcheck.rules.parts import parts_of
from fitcheck.rules.verdict import Verdict

VERSION = "1"


def verdict_1(case: Case, digest: str) -> Verdict:
    """Answer by the rules of version 1.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].

    Returns:
        The verdict [-].
    """
    return verdict_of(case, parts_of(case), VERSION, digest)
