"""What do the rules of version 4 say of a case: those of version 3, and what holds in steel and masonry?"""

from dataclasses import replace

from fitcheck.rules.asked_case import Case
from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_asked import fixing_asked
from fitcheck.rules.fixing_held import FixingHeld
from fitcheck.rules.fixing_in_masonry import report_wanted
from fitcheck.rules.holes import FixingAnswer
from fitcheck.rules.parts import Parts, parts_of
from fitcheck.rules.shape_state import UNDOUBTED
from fitcheck.rules.verdict import Verdict
from fitcheck.rules.version_2 import Borne, asking_of, judged
from fitcheck.rules.version_3 import findings_with_made, with_made

VERSION = "4"


def verdict_4(case: Case, digest: str) -> Verdict:
    """Answer by the rules of version 4.

    Source: each part's own; what the sheet leaves out is not judged.

    Args:
        case: survey, sheet, settings, and a size when one was asked for [-].
        digest: digest of the inputs [-].

    Returns:
        The verdict [-].
    """
    parts = parts_of(case, frames_only=True)
    return with_made(case, digest, VERSION, parts, walls_asked)


def findings_4(case: Case) -> tuple[Finding, ...]:
    """Return the findings of version 4 as if no reading were in doubt.

    Args:
        case: survey, sheet, settings and size [-].

    Returns:
        The findings [-].
    """
    return findings_with_made(case, _plain)


def _plain(case: Case) -> tuple[Finding, ...]:
    parts, borne = walls_asked(case, parts_of(case, frames_only=True))
    return judged(case, parts, UNDOUBTED, borne)[0]


def walls_asked(case: Case, parts: Parts) -> tuple[Parts, Borne]:
    """Ask every bracket's wall, and put what it said into the schedule.

    Args:
        case: survey, sheet and settings [-].
        parts: what the first rules worked out [-].

    Returns:
        The parts, and what each bracket gets and holds [-].
    """
    asking = asking_of(case, parts)
    answers: list[FixingAnswer] = []
    held: list[FixingHeld] = []
    for spot, answer in zip(parts.spots, parts.fixings, strict=True):
        row = answer
        if spot.fixing.carries or spot.fixing.bracket is not None:
            held.append(fixing_asked(spot, answer, asking))
            row = held[-1].answer
        answers.append(row)
    findings = [finding for one in held for finding in one.findings]
    findings += _reports_wanted(held)
    return _settled(parts, tuple(answers)), Borne(asking.rail, tuple(held), findings)


def _settled(parts: Parts, answers: tuple[FixingAnswer, ...]) -> Parts:
    """Put the rows that a wall has changed into the schedule, and their findings in place of the old."""
    pairs = zip(parts.fixings, answers, strict=True)
    new = {id(old.findings[0]): now.findings[0] for old, now in pairs if old is not now}
    if not new:
        return parts
    findings = tuple(new.get(id(one), one) for one in parts.findings)
    return replace(parts, fixings=answers, findings=findings)


def _reports_wanted(held: list[FixingHeld]) -> list[Finding]:
    """Ask for each report that is wanted once, naming every place that waits for it."""
    places: dict[str, list[str]] = {}
    for one in held:
        if one.wanted:
            places.setdefault(one.wanted, []).append(one.answer.findings[0].place)
    return [report_wanted(wanted, where) for wanted, where in places.items()]
