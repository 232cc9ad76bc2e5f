"""IRC R602.5, read: walls that bear nothing may have 2x4 studs laid flat, 1 1/2 in deep.

The depth is that of PS 20, dressed. What holds a door may so be no deeper than the screw is long.
"""

from dataclasses import replace

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.services import flat_stud_cautions
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read
from fitcheck.rules.tables_fixings import STUD_FACE
from fitcheck.rules.tables_hazards import FLAT_STUD

HOUSE = house_read(Strict({}))


@pytest.mark.parametrize(("reach", "told"), [("1 1/2 in", 0), ("1 9/16 in", 1), ("2 in", 1)])
def test_a_screw_deeper_than_a_flat_stud_is_warned_of(reach: str, told: int) -> None:
    said = flat_stud_cautions(length_parse(reach).nm, HOUSE)

    assert len(said) == told
    assert all("lie flat, 1 1/2 in deep (IRC R602.5)" in one for one in said)


def test_rules_before_5_did_not_speak_of_it() -> None:
    assert flat_stud_cautions(length_parse("2 in").nm, replace(HOUSE, rules=4)) == ()


def test_a_stud_laid_flat_is_as_deep_as_its_face_is_wide() -> None:
    assert length_parse(FLAT_STUD.value).nm == STUD_FACE.value
