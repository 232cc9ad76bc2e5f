"""Which shape do the numbers of carrying, sealing, sawing and the clocks have?"""

from dataclasses import dataclass

from fitcheck.rules.length import length_parse
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_site import site_source
from fitcheck.rules.tables import Constant, Value


@dataclass(frozen=True, slots=True)
class Sited(Constant[Value]):
    """A number whose document stands in the sources of the site."""

    @property
    def source(self) -> Source:
        """Return the source as it is printed beside the number."""
        return site_source(self.document, self.status, self.clause)


def nm(text: str) -> int:
    """Return a length of a table in nanometres.

    Args:
        text: a length with its unit [-].

    Returns:
        The length [nm].
    """
    return length_parse(text).nm


def house(value: Value, unit: str) -> Sited[Value]:
    """Return a setting of the firm.

    Args:
        value: the setting [-].
        unit: its unit [-].

    Returns:
        The setting with its source [-].
    """
    return Sited(value, unit, "house", "settings", "house setting")


def trade(value: Value, unit: str) -> Sited[Value]:
    """Return a habit of the trade that no document stands behind.

    Args:
        value: the habit [-].
        unit: its unit [-].

    Returns:
        The habit with its source [-].
    """
    return Sited(value, unit, "trade", "common practice", "common practice, no source")
