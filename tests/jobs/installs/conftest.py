"""A crew that is about to start."""

import pytest

from tests.clients import Caller
from tests.site import Site, site_of


@pytest.fixture
def site(tablet: Caller, measurer: Caller) -> Site:
    """A bypass slider whose verdict fits, booked for the tablet's crew, and started."""
    made = site_of(tablet, measurer)
    made.start()
    return made
