"""One row of everything, made once for a module, belonging to the crew of the callers in the field."""

import pytest

from tests.clients import Caller
from tests.named import CALLERS, again
from tests.world import World, make_world

Made = tuple[dict[str, Caller], World]


@pytest.fixture(scope="module")
def made(beneath: None) -> Made:
    """Everybody and everything once; lead, helper and the tablet's holder are the crew."""
    everybody = {role: make() for role, make in CALLERS.items()}
    members = [everybody[name].member for name in ("lead", "helper", "tablet")]
    return everybody, make_world(everybody["measurer"], members)


@pytest.fixture
def callers(db: None, made: Made) -> dict[str, Caller]:
    """Every kind of caller by its role."""
    return {role: again(caller) for role, caller in made[0].items()}


@pytest.fixture
def world(db: None, made: Made) -> World:
    """One row of everything."""
    return made[1].again()
