"""Safety glazing: 16 CFR 1201, ANSI Z97.1-2015 as summarised, EN 12600 as summarised, IRC R308 and
IBC 2406 as quoted by forums and a city's copy, ASTM C1048 kinds and EN strengths as restated.
"""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.safety_mark import (
    drop_energy_ft_lb,
    drop_height_en12600_nm,
    glass_kind,
    glass_strength_mpa,
    hazardous_by_water,
    safety_mark,
)
from fitcheck.rules.tables_pane import GLASS_E

SQUARE_FOOT = (12 * 25_400_000) ** 2
JOULES_PER_FT_LB = 1.3558179483314


def nm(text: str) -> int:
    return length_parse(text).nm


@pytest.mark.parametrize(("drop_class", "ft_lb", "joule"), [("A", 400, 542.3), ("B", 150, 203.4)])
def test_energy_of_the_bag(drop_class: str, ft_lb: float, joule: float) -> None:
    assert drop_energy_ft_lb(drop_class) == pytest.approx(ft_lb)
    assert drop_energy_ft_lb(drop_class) * JOULES_PER_FT_LB == pytest.approx(joule, abs=0.05)


@pytest.mark.parametrize(
    ("product", "hundredths_sq_ft", "category", "drop_class"),
    [
        ("shower door", 500, "II", "A"),
        ("shower enclosure", 2000, "II", "A"),
        ("interior door", 900, "I", "B"),
        ("interior door", 901, "II", "A"),
    ],
)
def test_1201_2_category_and_drop_class(
    product: str, hundredths_sq_ft: int, category: str, drop_class: str
) -> None:
    mark = safety_mark(product, hundredths_sq_ft * SQUARE_FOOT // 100, "c1048")

    assert (mark.category, mark.drop_class) == (category, drop_class)
    assert f"16 CFR 1201 Category {category}" in mark.look_for


def test_ibc_2406_2_z97_1_alone_is_refused_at_a_shower_only() -> None:
    assert "Z97.1 alone" in safety_mark("shower door", SQUARE_FOOT * 5, "c1048").refuse
    assert "Z97.1" not in safety_mark("interior door", SQUARE_FOOT * 5, "c1048").refuse


@pytest.mark.parametrize(
    "element",
    [
        "who tempered it",
        '"tempered"',
        '"16 CFR 1201 Category II"',
        "stays visible",
        "etched, sandblasted, fired, lasered or embossed",
    ],
)
def test_r308_1_and_ibc_2406_3_every_element_of_the_designation_is_looked_for(element: str) -> None:
    mark = safety_mark("shower door", SQUARE_FOOT * 15, "c1048")

    assert element in mark.look_for
    assert "comes off" in mark.refuse


def test_r308_1_1_one_full_mark_does_for_small_panes() -> None:
    small = safety_mark("interior door", SQUARE_FOOT, "c1048").look_for
    larger = safety_mark("interior door", SQUARE_FOOT + SQUARE_FOOT // 100, "c1048").look_for

    assert "on one pane at least" in small
    assert "etched" in larger


def test_the_european_mark_is_not_the_american_one() -> None:
    mark = safety_mark("shower door", SQUARE_FOOT * 15, "en12150")

    assert "EN 12150" in mark.look_for
    before = safety_mark("shower door", SQUARE_FOOT * 15, "en12150", 4)
    assert "CFR" not in before.look_for + before.refuse


def test_by_american_law_a_european_pane_bears_both_marks() -> None:
    american = safety_mark("shower door", SQUARE_FOOT * 15, "c1048")
    both = safety_mark("shower door", SQUARE_FOOT * 15, "en12150")

    assert both.look_for.startswith(american.look_for)
    assert both.look_for.endswith("EN 12150 on every pane")
    assert (both.category, both.drop_class, both.refuse) == ("II", "A", american.refuse)


@pytest.mark.parametrize(("edition", "mark"), [("c1048", "local law"), ("en12150", "EN 12150")])
def test_by_another_law_there_is_no_american_category(edition: str, mark: str) -> None:
    told = safety_mark("shower door", SQUARE_FOOT * 15, edition, jurisdiction="other")

    assert (told.category, told.drop_class) == (None, None)
    assert mark in told.look_for
    assert "CFR" not in told.look_for + told.refuse
    assert "which law" in told.refuse


@pytest.mark.parametrize(
    ("edge", "away", "hazardous"),
    [
        ("60 in", "0 in", False),
        ("59.9 in", "0 in", True),
        ("10 in", "60 in", True),
        ("10 in", "60.1 in", False),
    ],
)
def test_r308_4_5_glass_by_water(edge: str, away: str, hazardous: bool) -> None:
    assert hazardous_by_water(nm(edge), nm(away)) is hazardous


@pytest.mark.parametrize(("impact_class", "drop"), [(1, "1200 mm"), (2, "450 mm"), (3, "190 mm")])
def test_en_12600_drop_heights(impact_class: int, drop: str) -> None:
    assert drop_height_en12600_nm(impact_class) == nm(drop)


@pytest.mark.parametrize(
    ("mpa", "kind"),
    [
        (69, "tempered"),
        (68.9, "neither"),
        (52, "heat_strengthened"),
        (24, "heat_strengthened"),
        (23.9, "neither"),
        (52.1, "neither"),
    ],
)
def test_c1048_kinds_only_tempered_is_safety_glass(mpa: float, kind: str) -> None:
    assert glass_kind(mpa) == kind


@pytest.mark.parametrize(
    ("kind", "mpa"),
    [
        ("annealed", 45),
        ("heat_strengthened", 70),
        ("tempered", 120),
        ("tempered_patterned", 90),
        ("tempered_enamelled", 75),
    ],
)
def test_en_characteristic_bending_strengths(kind: str, mpa: int) -> None:
    assert glass_strength_mpa(kind) == mpa


def test_en_572_1_stiffness() -> None:
    assert GLASS_E.value == 70
