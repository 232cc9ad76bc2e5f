"""Which findings and cuts may not be relied on because a reading is in doubt?"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from fitcheck.rules.cuts import CutAnswer
from fitcheck.rules.finding import Finding, worst
from fitcheck.rules.shape_state import ShapeTold


def in_doubt(findings: Iterable[Finding], doubted: Mapping[str, str]) -> tuple[Finding, ...]:
    """Make unknown what rests on a reading in doubt; unknown never passes.

    Args:
        findings: the findings [-].
        doubted: what to do about each reading in doubt, by its id [-].

    Returns:
        The findings [-].
    """
    if not doubted:
        return tuple(findings)
    return tuple(_doubt(one, doubted) for one in findings)


def by_shape(findings: Iterable[Finding], shape: ShapeTold) -> tuple[Finding, ...]:
    """Put the contradiction of the readings in front, and make unknown what rests on one in doubt.

    Args:
        findings: the findings [-].
        shape: what the readings say of the opening together [-].

    Returns:
        The findings [-].
    """
    told = in_doubt(findings, shape.doubted)
    return (shape.finding, *told) if shape.finding else told


def _doubt(finding: Finding, doubted: Mapping[str, str]) -> Finding:
    first = next((one for one in finding.readings if one in doubted), None)
    if first is None or finding.state == "unknown":
        return finding
    return replace(
        finding, state="unknown", margin=None, guard_nm=None, chance=None, do=doubted[first]
    )


def cuts_in_doubt(
    answers: tuple[CutAnswer, ...], doubted: Mapping[str, str]
) -> tuple[CutAnswer, ...]:
    """Make unknown each cut that rests on a reading in doubt.

    Args:
        answers: the cuts with their findings [-].
        doubted: what to do about each reading in doubt, by its id [-].

    Returns:
        The cuts [-].
    """
    if not doubted:
        return answers
    told = []
    for answer in answers:
        findings = in_doubt(answer.findings, doubted)
        state = worst(one.state for one in findings)
        told.append(CutAnswer(replace(answer.cut, state=state), findings))
    return tuple(told)
