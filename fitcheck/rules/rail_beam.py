"""How far does a head rail sag, what moment does it carry, what do its ends push on?

Any consistent units will do: pounds and inches, or newtons and millimetres.
"""

import math
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Load:
    """A load on a beam and how far from its left end it acts."""

    force: float
    at: float


@dataclass(frozen=True, slots=True)
class Peak:
    """The greatest value along a beam, and where it is."""

    value: float
    at: float


@dataclass(frozen=True, slots=True)
class Section:
    """Second moment of area and section modulus about the bending axis; area and thickest part."""

    inertia: float
    modulus: float
    area: float
    thickest: float


def reactions(span: float, loads: tuple[Load, ...]) -> tuple[float, float]:
    """Return what a simply supported beam pushes on at its left and right end.

    Source: equilibrium; AISC Manual, table 3-23.

    Args:
        span: between the supports [in or mm].
        loads: the loads, each within the span [lbf or N].

    Returns:
        The two reactions [lbf or N].

    Raises:
        ValueError: no span, or a load that is off the beam.
    """
    _refuse_off(span, loads)
    right = sum(load.force * load.at for load in loads) / span
    return sum(load.force for load in loads) - right, right


def moment_at(span: float, loads: tuple[Load, ...], x: float) -> float:
    """Return the bending moment at a section.

    Source: equilibrium of the part to the left.

    Args:
        span: between the supports [in or mm].
        loads: the loads [lbf or N].
        x: from the left end [in or mm].

    Returns:
        The moment, sagging positive [lbf in or N mm].
    """
    left, _ = reactions(span, loads)
    return left * x - sum(load.force * (x - load.at) for load in loads if load.at < x)


def greatest_moment(span: float, loads: tuple[Load, ...]) -> Peak:
    """Return the greatest bending moment; it stands under one of the loads.

    Source: equilibrium.

    Args:
        span: between the supports [in or mm].
        loads: the loads [lbf or N].

    Returns:
        The moment and where it is [lbf in or N mm, in or mm].

    Raises:
        ValueError: no load.
    """
    if not loads:
        raise ValueError("a beam without loads has no greatest moment")
    return max(
        (Peak(moment_at(span, loads, load.at), load.at) for load in loads),
        key=lambda peak: peak.value,
    )


def sag_at(span: float, stiffness: float, loads: tuple[Load, ...], x: float) -> float:
    """Return how far a simply supported beam sags at a section, loads superposed.

    Source: AISC Manual, table 3-23: P b x (L^2 - b^2 - x^2)/(6 E I L), mirrored beyond the load.

    Args:
        span: between the supports [in or mm].
        stiffness: E I [lbf in2 or N mm2].
        loads: the loads [lbf or N].
        x: from the left end [in or mm].

    Returns:
        The sag [in or mm].

    Raises:
        ValueError: no span, no stiffness, or a load that is off the beam.
    """
    _refuse_off(span, loads)
    if not stiffness > 0:
        raise ValueError("a rail has a stiffness")
    return sum(_sag_of(span, stiffness, load, x) for load in loads)


def greatest_sag(span: float, stiffness: float, loads: tuple[Load, ...]) -> Peak:
    """Return the greatest sag, which is mostly not at mid-span.

    Source: the slope is a quadratic between two loads; the sag peaks where it is zero.

    Args:
        span: between the supports [in or mm].
        stiffness: E I [lbf in2 or N mm2].
        loads: the loads [lbf or N].

    Returns:
        The sag and where it is [in or mm].

    Raises:
        ValueError: no span, no stiffness, or a load that is off the beam.
    """
    corners = sorted({0.0, span, *(load.at for load in loads)})
    flat = [x for a, b in pairwise(corners) for x in _flat_points(span, loads, a, b)]
    found = (Peak(sag_at(span, stiffness, loads, x), x) for x in [*corners, *flat])
    return max(found, key=lambda peak: peak.value)


def section_tube(width: float, height: float, wall: float) -> Section:
    """Return the section of a rectangular tube with sharp corners, bent about its level axis.

    Args:
        width: outside, level [in or mm].
        height: outside, upright [in or mm].
        wall: thickness of the wall [in or mm].

    Returns:
        Inertia, modulus, area, thickest part [in4, in3, in2, in or mm4, mm3, mm2, mm].

    Raises:
        ValueError: the walls meet.
    """
    if not 0 < 2 * wall < min(width, height):
        raise ValueError("the walls of a tube do not meet")
    inner = (width - 2 * wall) * (height - 2 * wall) ** 3
    inertia = (width * height**3 - inner) / 12
    area = width * height - (width - 2 * wall) * (height - 2 * wall)
    return Section(inertia, inertia / (height / 2), area, wall)


def section_round(outside: float, wall: float) -> Section:
    """Return the section of a round tube.

    Args:
        outside: outside diameter [in or mm].
        wall: thickness of the wall [in or mm].

    Returns:
        Inertia, modulus, area, thickest part [in4, in3, in2, in or mm4, mm3, mm2, mm].

    Raises:
        ValueError: the walls meet.
    """
    if not 0 < 2 * wall < outside:
        raise ValueError("the walls of a tube do not meet")
    inertia = math.pi * (outside**4 - (outside - 2 * wall) ** 4) / 64
    area = math.pi * (outside - wall) * wall
    return Section(inertia, inertia / (outside / 2), area, wall)


def section_bar(width: float, height: float) -> Section:
    """Return the section of a flat bar.

    Args:
        width: level [in or mm].
        height: upright [in or mm].

    Returns:
        Inertia, modulus, area, thickest part [in4, in3, in2, in or mm4, mm3, mm2, mm].

    Raises:
        ValueError: a side is not more than zero.
    """
    if not (width > 0 and height > 0):
        raise ValueError("a bar has a width and a height")
    inertia = width * height**3 / 12
    return Section(inertia, inertia / (height / 2), width * height, min(width, height))


def _sag_of(span: float, stiffness: float, load: Load, x: float) -> float:
    near, far = (x, span - load.at) if x <= load.at else (span - x, load.at)
    return load.force * far * near * (span**2 - far**2 - near**2) / (6 * stiffness * span)


def _flat_points(span: float, loads: tuple[Load, ...], a: float, b: float) -> list[float]:
    """Return where the slope is zero between two neighbouring loads.

    E I times the slope is theta - R x^2/2 + sum P (x - p)^2/2 over the loads to the left.
    """
    left, _ = reactions(span, loads)
    before = [load for load in loads if load.at <= a]
    theta = sum(
        load.force * (span - load.at) * (span**2 - (span - load.at) ** 2) / (6 * span)
        for load in loads
    )
    two = (sum(load.force for load in before) - left) / 2
    one = -sum(load.force * load.at for load in before)
    none = theta + sum(load.force * load.at**2 for load in before) / 2
    flat = _falling_root(two, one, none)
    return [] if flat is None or not a < flat < b else [flat]


def _falling_root(two: float, one: float, none: float) -> float | None:
    """Return where a slope falls through zero; between two supports a rail that is pushed down only sags.

    Of the two roots of a square this is the one with a derivative below zero. `one` is never more than
    zero, so that nothing cancels out in this form of it, and a slope that is a line needs no other.
    """
    under = one * one - 4 * two * none
    return 2 * none / (math.sqrt(under) - one) if under > 0 else None


def _refuse_off(span: float, loads: tuple[Load, ...]) -> None:
    if not span > 0:
        raise ValueError("a rail has a span")
    if any(not 0 <= load.at <= span or not load.force >= 0 for load in loads):
        raise ValueError("every load is on the rail and pushes down")
