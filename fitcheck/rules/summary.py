"""What does the whole verdict say in one sentence, and what is still to be read?"""

from collections.abc import Iterable

from fitcheck.rules.compare import spoken
from fitcheck.rules.finding import Finding, Need, State
from fitcheck.rules.sheet import Size
from fitcheck.rules.verdict import Disagreement, Missing

MADE = "The glass made to measure"


def missing_readings(
    findings: Iterable[Finding], disagreements: Iterable[Disagreement]
) -> tuple[Missing, ...]:
    """Return every reading still to be taken, each once, with the rules that wait for it.

    Args:
        findings: all findings [-].
        disagreements: readings that exist but differ; those are not missing [-].

    Returns:
        The missing readings, in the order the rules ask for them [-].
    """
    disputed = {(each.quantity, each.side, each.height) for each in disagreements}
    waiting: dict[Need, list[Finding]] = {}
    for finding in findings:
        for need in finding.needs:
            if (need.quantity, need.side, need.height) not in disputed:
                waiting.setdefault(need, []).append(finding)
    return tuple(_missing(need, rules) for need, rules in waiting.items())


def _missing(need: Need, waiting: list[Finding]) -> Missing:
    rules = tuple(dict.fromkeys(finding.rule for finding in waiting))
    places = dict.fromkeys(finding.place for finding in waiting)
    return Missing(need.quantity, need.side, need.height, f"needed for {'; '.join(places)}", rules)


def summary(
    state: State,
    size: Size | None,
    findings: list[Finding],
    mark: int,
    *,
    made: bool = False,
) -> str:
    """Say in one sentence what limits, and by how much.

    Args:
        state: the state of the verdict [-].
        size: the size, if one is chosen [-].
        findings: all findings [-].
        mark: parts of an inch [-].
        made: whether it is glass made to measure, whose one size is only a name for that [-].

    Returns:
        The sentence [-].
    """
    name = f"Size {size.code}" if size else "This kit"
    if made:
        name = MADE
    same = [finding for finding in findings if finding.state == state]
    if not same:
        return "Nothing could be compared."
    if state == "unknown":
        return (
            f"{name} is not known to fit: {_count(same, 'rule')} cannot be answered. {same[0].do}"
        )
    measured = [finding for finding in same if finding.margin and finding.margin.u_mm > 0]
    nearest = min(measured or same, key=_margin)
    where = f"{nearest.question} ({nearest.place})"
    if state == "fails":
        return f"{name} does not fit: {_count(same, 'rule')} failed. {where} {nearest.do}"
    if state == "tight":
        return f"{name} is tight, by {_count(same, 'rule')}. {where} {nearest.do}"
    if nearest.margin is None:
        return f"{name} fits."
    room = spoken(nearest.margin.low_nm, mark)
    return f"{name} fits: the nearest limit is {room} away. {where}"


def _margin(finding: Finding) -> float:
    return float("inf") if finding.margin is None else finding.margin.low_nm


def _count(findings: list[Finding], noun: str) -> str:
    return f"{len(findings)} {noun}{'' if len(findings) == 1 else 's'}"
