"""IRC R702.4.2, read: boards that may back tile in a wet wall; green gypsum may not since 2006."""

import pytest

from fitcheck.rules.cautions import cautions
from fitcheck.rules.length import length_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import BACKINGS, Opening, Survey, Zone, house_read
from fitcheck.rules.verdict import Caution

LEVEL = (length_parse("0 in"), length_parse("80 in"))


def told(finish: str, backing: str) -> dict[str, Caution]:
    half = length_parse("1/2 in")
    zone = Zone("z", "left_wall", *LEVEL, finish, half, backing, half, "solid", "wood_stud", "yes")
    survey = Survey(Opening("alcove", "curb", "left", 2010), (), (zone,))
    return {one.code: one for one in cautions(survey, house_read(Strict({})))}


@pytest.mark.parametrize("norm", ["C1178", "C1288", "C1325"])
def test_tile_on_gypsum_board_is_warned_of_and_the_allowed_boards_are_named(norm: str) -> None:
    assert norm in told("porcelain", "gypsum_board")["backer"].text


@pytest.mark.parametrize("backing", [one for one in BACKINGS if one != "gypsum_board"])
def test_tile_on_another_board_is_not(backing: str) -> None:
    assert "backer" not in told("porcelain", backing)


@pytest.mark.parametrize("finish", ["acrylic", "painted_board", "solid_surface"])
def test_what_is_no_tile_is_not(finish: str) -> None:
    assert "backer" not in told(finish, "gypsum_board")
