"""One row of everything, belonging to the crew of the callers in the field."""

import pytest

from tests.clients import Caller
from tests.world import World, make_world


@pytest.fixture
def world(callers: dict[str, Caller]) -> World:
    """Everything once; lead, helper and the tablet's holder are the crew."""
    members = [callers[name].member for name in ("lead", "helper", "tablet")]
    return make_world(callers["measurer"], members)
