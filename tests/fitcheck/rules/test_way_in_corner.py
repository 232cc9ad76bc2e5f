"""Which side lies level, and how tall is the panel, as it goes round a corner of two widths?"""

import pytest

from fitcheck.rules.way_in import Place, Slab, _round, passages

TALL = Slab(800, 2300, 40)
MM = 10**6


def corner(height: float) -> Place:
    """600 and 900 mm let (600^(2/3) + 900^(2/3))^(3/2) = 2107 mm round, a thick panel rather less."""
    return Place("corner", "the corner", {"from": 600, "to": 900, "height": height}, 0.0, 1.0)


@pytest.mark.parametrize(("height", "goes"), [(2300, True), (2299.9, False)])
def test_upright_the_shorter_side_lies_level_and_the_longer_stands(
    height: float, goes: bool
) -> None:
    poses = dict(_round(("from", "to")))

    assert poses["upright"](TALL, corner(height)) == goes


def test_on_its_side_the_longer_side_lies_level() -> None:
    """2300 mm do not go round, however high it is; 1900 do, and need 800 mm of height."""
    poses = dict(_round(("from", "to")))
    short = Slab(800, 1900, 40)

    assert not poses["on its side"](TALL, corner(9000))
    assert poses["on its side"](short, corner(800))
    assert not poses["on its side"](short, corner(799.9))


def test_the_margin_of_a_tall_panel_round_a_low_corner_is_the_room_over_it() -> None:
    (found,) = passages(TALL, (corner(2310),), 0)

    assert (found.pose, found.margin_nm) == ("upright", 10 * MM)
