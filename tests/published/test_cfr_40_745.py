"""40 CFR 745, subpart E (lead): target housing is housing built before 1978; the text was read."""

import pytest

from fitcheck.rules.cautions import lead_suspected


@pytest.mark.parametrize(("year", "suspected"), [(1940, True), (1977, True), (1978, False)])
def test_a_house_of_1978_is_no_longer_target_housing(year: int, suspected: bool) -> None:
    assert lead_suspected(year) is suspected
