"""Cases that several test modules of one topic ask about."""

from hypothesis import strategies as st

from fitcheck.rules.lateral import (
    Dowel,
    bearing_large,
    bearing_small,
    reductions,
)
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.wood_screw import (
    nominal_nm,
    root_in,
    yield_psi,
)

HALF_A_POUND = 0.5


TENTH = 0.1


STEEL = 61_850


def nominal(size: str) -> float:
    return nominal_nm(size) / NM_PER_INCH


def dowel(
    size: str, gravity: float, side_in: float, side_psi: float | None, main_in: float | None = None
) -> Dowel:
    root = root_in(size)
    return Dowel(
        diameter_in=root,
        main_in=main_in or 10 * nominal(size),
        side_in=side_in,
        main_psi=bearing_small(gravity),
        side_psi=side_psi or bearing_small(gravity),
        yield_psi=yield_psi(size),
        reduction=reductions(root),
    )


TABLE_12K = [
    (0.075, "1/4 in", (170, 160, 150, 140, 140, 130), (130, 120, 110, 100, 100, 90)),
    (0.075, "5/16 in", (220, 200, 190, 180, 180, 170), (160, 140, 130, 120, 120, 110)),
    (0.075, "3/8 in", (220, 200, 200, 180, 180, 170), (160, 140, 130, 120, 120, 100)),
    (0.105, "1/4 in", (180, 170, 160, 150, 150, 140), (140, 130, 120, 110, 110, 100)),
]


def lag(plate_in: float, size: str, gravity: float, degrees: float) -> Dowel:
    d, root = nominal(size), root_in(size)
    return Dowel(
        diameter_in=root,
        main_in=8 * d,
        side_in=plate_in,
        main_psi=bearing_large(gravity, d, degrees),
        side_psi=STEEL,
        yield_psi=yield_psi(size),
        reduction=reductions(root, degrees, lag=True),
    )


psi = st.floats(1500, 90_000)


inches = st.floats(0.03, 4)


def turning(load: float, bears: float, length: float, moment: float | None) -> float:
    """The moment that a member can hold at its face beside a shear: by a hinge, or by turning."""
    if moment is not None:
        return moment - load**2 / (2 * bears)
    return bears * length**2 / 4 - load * length / 2 - load**2 / (4 * bears)


def by_halving(dowel: Dowel, gap: float, main_hinge: bool, side_hinge: bool) -> float:
    """The shear at which both faces together just hold the moment of the gap."""
    plastic = dowel.yield_psi * dowel.diameter_in**3 / 6
    low, high = 0.0, 1e9
    for _ in range(200):
        load = (low + high) / 2
        main = turning(
            load,
            dowel.main_psi * dowel.diameter_in,
            dowel.main_in,
            plastic if main_hinge else None,
        )
        side = turning(
            load,
            dowel.side_psi * dowel.diameter_in,
            dowel.side_in,
            plastic if side_hinge else None,
        )
        low, high = (load, high) if main + side > load * gap else (low, load)
    return low
