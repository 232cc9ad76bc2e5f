"""What do the rooms of installs and claims tell a paper about an opening?"""

from typing import Any

from jobs.installs.paper import install_copy
from jobs.openings.models import Opening


def work_copy(opening: Opening) -> dict[str, Any] | None:
    """Copy what is recorded of the install; None while nothing is."""
    return install_copy(opening=opening)


def claims_copy(opening: Opening) -> list[dict[str, Any]]:
    """Copy the claims about this opening's goods that are open."""
    return []
