"""What share of an anchor's allowed loads do pull and shear use at once?"""

from fitcheck.rules.tables_fixings import ANCHOR_TOGETHER

TOGETHER = ("straight", "trilinear", "power")


def anchor_used(together: str, pull: float, shear: float) -> float:
    """Return the share of the report's loads that is used, by the line that the report names.

    "straight" adds the two shares up, and is what a report means that says nothing. "trilinear" leaves the
    smaller one out up to a fifth and lets the sum reach 1.2; "power" adds the shares raised to 5/3.

    Source: the evaluation report; ACI 318-19, 17.8.2, 17.8.3 and R17.8 for the forms other than the
    straight one, as a maker's design guide restates them.

    Args:
        together: one of `TOGETHER` [-].
        pull: pull over the tension allowed [-].
        shear: shear over the shear allowed [-].

    Returns:
        The share; it grows with the load in proportion, and one or less holds [-].

    Raises:
        ValueError: a share is less than zero, or no such line is known.
    """
    if pull < 0 or shear < 0:
        raise ValueError("a share is never less than zero")
    if together == "straight":
        return pull + shear
    if together == "trilinear":
        return _trilinear(pull, shear)
    if together == "power":
        exponent: float = ANCHOR_TOGETHER.value["power"]
        return float((pull**exponent + shear**exponent) ** (1 / exponent))
    raise ValueError(f"no line of this name: {together}")


def _trilinear(pull: float, shear: float) -> float:
    small, most = ANCHOR_TOGETHER.value["small"], ANCHOR_TOGETHER.value["sum"]
    alone = max(pull, shear)
    if min(pull, shear) <= small:
        return alone
    return max(alone, (pull + shear) / most)
