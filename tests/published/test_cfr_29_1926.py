"""29 CFR 1926.1153 (silica) and 1926.1101 (asbestos): the texts were read."""

import pytest

from fitcheck.rules import tables
from fitcheck.rules.cautions import asbestos_presumed


def test_1153_limit_and_action_level_in_micrograms_per_cubic_metre() -> None:
    assert tables.SILICA_LIMIT.value == 50
    assert tables.SILICA_ACTION_LEVEL.value == 25


@pytest.mark.parametrize(
    "control", ["shroud or cowling", "dust collector", "99 %", "filter-cleaning", "HEPA vacuum"]
)
def test_1153_table_1_row_vii_controls_for_handheld_drills_are_all_named(control: str) -> None:
    assert control in tables.SILICA_DRILL_ROW.value


@pytest.mark.parametrize(("year", "presumed"), [(1979, True), (1980, True), (1981, False)])
def test_1101_a_building_of_1980_is_still_presumed(year: int, presumed: bool) -> None:
    assert asbestos_presumed(year) is presumed
