"""Do compartment, way in, curb and floor keep what the model codes ask?"""

from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.tables_pane import (
    ACCESS_WIDTH,
    ADA_THRESHOLD,
    COMPARTMENT,
    CURB_HEIGHT,
    CURB_TOP_SLOPE,
    FLOOR_SLOPE,
)

_PER_FOOT = 96


def compartment_large_enough(width_nm: int, depth_nm: int) -> bool:
    """Return whether a shower compartment is large enough and holds a 30 in disc.

    Source: IRC P2708.1, IPC 417.4 as quoted.

    Args:
        width_nm: finished width [nm].
        depth_nm: finished depth [nm].

    Returns:
        True when both are kept [-].
    """
    area = COMPARTMENT.value["square_inches"] * NM_PER_INCH**2
    return width_nm * depth_nm >= area and min(width_nm, depth_nm) >= COMPARTMENT.value["disc"]


def access_wide_enough(clear_nm: int) -> bool:
    """Return whether the way in and out is wide enough.

    Source: IRC P2708.1.1 as restated.

    Args:
        clear_nm: clear finished width with the door open [nm].

    Returns:
        True from 22 in [-].
    """
    return clear_nm >= ACCESS_WIDTH.value


def curb_high_enough(above_drain_nm: int) -> bool:
    """Return whether a curb is neither too low nor too high above the drain.

    Source: IRC P2709.1 (2021) as quoted.

    Args:
        above_drain_nm: from the top of the drain to the top of the curb [nm].

    Returns:
        True from 2 to 9 in [-].
    """
    low, high = CURB_HEIGHT.value
    return low <= above_drain_nm <= high


def floor_slopes_enough(fall_nm: int, run_nm: int) -> bool:
    """Return whether a shower floor falls to its drain, neither too little nor too much.

    Source: IRC P2709.1 (2021) as quoted: 1/4 to 1/2 in per foot.

    Args:
        fall_nm: fall [nm].
        run_nm: over this run [nm].

    Returns:
        True within the two [-].

    Raises:
        ValueError: no run.
    """
    if run_nm <= 0:
        raise ValueError("a slope has a run")
    low, high = FLOOR_SLOPE.value
    return low * run_nm <= fall_nm * _PER_FOOT <= high * run_nm


def curb_top_fall_nm(depth_nm: int) -> int:
    """Return how much the top of a curb falls towards the shower at least, rounded up.

    Source: tile handbook (from memory): 1/4 in per foot.

    Args:
        depth_nm: depth of the curb [nm].

    Returns:
        The fall [nm].
    """
    over, under = CURB_TOP_SLOPE.value
    return -(-depth_nm * over // under)


def threshold_low_enough(height_nm: int, *, existing_transfer: bool = False) -> bool:
    """Return whether an accessible shower's threshold is low enough.

    Source: ADA standards 2010, 608.7.

    Args:
        height_nm: height of the threshold [nm].
        existing_transfer: a transfer shower in an existing building whose slab would suffer [-].

    Returns:
        True up to 1/2 in, or 2 in there [-].
    """
    which = "existing_transfer" if existing_transfer else "new"
    return height_nm <= ADA_THRESHOLD.value[which]
