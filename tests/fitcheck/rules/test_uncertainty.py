"""Doubt of levels goes by their span, and a value without doubt is inside or outside."""

import pytest

from fitcheck.rules.length import Length, length_parse
from fitcheck.rules.survey import Reading, Tool
from fitcheck.rules.uncertainty import (
    chance_text,
    conformance_probability,
    reading_uncertainty,
    tape_error_handbook_44,
)

LEVEL = Tool("level", "none", length_parse("1 mm"), hook=False)


def level(quantity: str, over: Length | None) -> float:
    value = length_parse("3 mm")
    return reading_uncertainty(Reading("r", quantity, "left", None, over, value, LEVEL, "-", "-"))


@pytest.mark.parametrize(
    ("quantity", "over", "u_mm"),
    [
        ("lean", "2 m", 0.8165),
        ("sill_level", None, 0.8165),
        ("sill_level", "1 m", 0.6455),
        ("sill_fall", None, 0.5802),
    ],
)
def test_a_level_is_as_sure_as_its_span_by_hand(
    quantity: str, over: str | None, u_mm: float
) -> None:
    """By hand: sqrt((0.5 mm/m x span / sqrt 3)^2 + 1/12 + 0.25)."""
    span = length_parse(over) if over else None

    assert level(quantity, span) == pytest.approx(u_mm, abs=0.0001)


@pytest.mark.parametrize(("value", "inside"), [(0.9, 0), (1.0, 1), (2.0, 1), (2.1, 0)])
def test_without_doubt_a_value_is_inside_or_outside(value: float, inside: int) -> None:
    assert conformance_probability(value, 0.0, least=1.0, most=2.0) == inside


@pytest.mark.parametrize(("value", "inside"), [(0.9, 0), (1.0, 1)])
def test_without_doubt_and_with_one_limit(value: float, inside: int) -> None:
    assert conformance_probability(value, 0.0, least=1.0) == inside
    assert conformance_probability(-value, 0.0, most=-1.0) == inside


@pytest.mark.parametrize(("chance", "text"), [(1.0, "0.999"), (0.91924, "0.919"), (0.0, "0.000")])
def test_a_chance_never_promises_too_much(chance: float, text: str) -> None:
    assert chance_text(chance) == text


def test_beyond_the_tapes_of_handbook_44_the_firms_figure_holds() -> None:
    assert tape_error_handbook_44(length_parse("101 ft").nm) == 12.7
