"""How are masses and forces read and printed without a binary float?"""

import re
from decimal import Decimal

UG_PER_KG = 1_000_000_000
UG_PER_LB = 453_592_370
_UG = {"kg": UG_PER_KG, "g": 1_000_000, "lb": UG_PER_LB}
_NEWTON = {"N": Decimal(1), "kN": Decimal(1000), "lbf": Decimal("4.4482216152605")}
_AMOUNT = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,6})?) ?([A-Za-z]+)")


def mass_parse(text: object) -> int:
    """Read a mass such as "1.5 kg" or "3 lb"; parts of a microgram are rounded up.

    Args:
        text: a number with its unit: kg, g or lb [-].

    Returns:
        The mass [ug].

    Raises:
        ValueError: no number, no unit or another unit.
    """
    number, unit = _split(text, "1.5 kg", tuple(_UG))
    scaled = number * _UG[unit]
    return int(-(-scaled // 1))


def force_parse(text: object) -> Decimal:
    """Read a force such as "120 N" or "27 lbf".

    Args:
        text: a number with its unit: N, kN or lbf [-].

    Returns:
        The force [N].

    Raises:
        ValueError: no number, no unit or another unit.
    """
    number, unit = _split(text, "120 N", tuple(_NEWTON))
    return number * _NEWTON[unit]


def kg_text(mass_ug: int) -> str:
    """Print a mass in kilograms, rounded up to a tenth: nobody is hurt by a lighter panel.

    Args:
        mass_ug: the mass [ug].

    Returns:
        A text such as "36.0 kg" [kg].
    """
    tenths = -(-mass_ug // (UG_PER_KG // 10))
    return f"{tenths // 10}.{tenths % 10} kg"


def lb_text(mass_ug: int) -> str:
    """Print a mass in pounds, rounded up to a tenth, to stand beside its kilograms.

    Source: NIST SP 811, 1 lb = 0.45359237 kg exactly.

    Args:
        mass_ug: the mass [ug].

    Returns:
        A text such as "75.7 lb" [lb].
    """
    tenths = -(-mass_ug * 10 // UG_PER_LB)
    return f"{tenths // 10}.{tenths % 10} lb"


def _split(text: object, example: str, units: tuple[str, ...]) -> tuple[Decimal, str]:
    match = _AMOUNT.fullmatch(text.strip()) if isinstance(text, str) else None
    if match is None or match[2] not in units:
        raise ValueError(f'write "{example}"; units known: {", ".join(units)}')
    return Decimal(match[1]), match[2]
