"""29 CFR 1926.1153 (silica), 1926.1101 (asbestos) and 1926.102 (eyes): the texts were read.

Which editions of Z87.1 102(b)(1) lists (2010, 2003, 1989) is from memory; the mark is all that is told.
"""

import pytest

from fitcheck.rules import tables
from fitcheck.rules.cautions import asbestos_presumed, cautions
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import Opening, Survey, house_read
from fitcheck.rules.verdict import Caution


def told_of(year: int | None) -> tuple[Caution, ...]:
    opening = Opening("alcove", "curb", "left", year)
    return cautions(Survey(opening, (), ()), house_read(Strict({})))


def test_1153_limit_and_action_level_in_micrograms_per_cubic_metre() -> None:
    assert tables.SILICA_LIMIT.value == 50
    assert tables.SILICA_ACTION_LEVEL.value == 25


@pytest.mark.parametrize(
    "control", ["shroud or cowling", "dust collector", "99 %", "filter-cleaning", "HEPA vacuum"]
)
def test_1153_table_1_row_vii_controls_for_handheld_drills_are_all_named(control: str) -> None:
    assert control in tables.SILICA_DRILL_ROW.value


def test_1153_c_2_i_indoors_the_air_is_drawn_off_too() -> None:
    (said,) = [one.text for one in told_of(2000) if one.code == "dust"]

    assert "Indoors draw the air off as well" in said
    assert "no visible dust builds up (29 CFR 1926.1153 (c)(2)(i))" in said


def test_102_eyes_are_covered_by_side_shields_with_the_mark_of_z87_1() -> None:
    (said,) = [one.text for one in told_of(2000) if one.code == "protection"]

    assert "side shields marked Z87.1" in said


def test_1153_75_for_two_hours_and_10_for_six_is_26_25_above_the_action_level_computed() -> None:
    average = (75 * 2 + 10 * 6) / 8

    assert average == 26.25
    assert tables.SILICA_ACTION_LEVEL.value <= average < tables.SILICA_LIMIT.value


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("presumed", ["insulation", "surfacing", "old flooring"]),
        ("suspect", ["board", "compound", "mastic"]),
    ],
)
def test_1101_what_is_presumed_and_what_is_only_suspect(told: str, words: list[str]) -> None:
    """Thermal insulation, surfacing and vinyl or asphalt floor; wallboard, compound and tile mastic."""
    (said,) = [one.text for one in told_of(1975) if one.code == "asbestos"]
    before, _, after = said.partition(" are presumed to hold asbestos; ")

    part = before if told == "presumed" else after.partition(" are suspect")[0]
    assert [word for word in words if word not in part] == []


@pytest.mark.parametrize(("year", "presumed"), [(1979, True), (1980, True), (1981, False)])
def test_1101_a_building_of_1980_is_still_presumed(year: int, presumed: bool) -> None:
    assert asbestos_presumed(year) is presumed
