"""Does every reading route refuse a parameter that it does not know, and heed those it describes?"""

import pytest

from tests.clients import Caller, assert_problem
from tests.schema_check import operation_of, schema
from tests.world import World, routes

READS = [name for name, (method, _) in routes().items() if method == "get"]


@pytest.mark.parametrize("route", READS)
def test_a_parameter_that_is_not_known_is_refused_by_name(
    route: str, callers: dict[str, Caller], world: World
) -> None:
    answer = callers["office"].get(world.path(route) + "?stranger=1")
    told = assert_problem(answer, 400, "unknown_filter", "/stranger")
    assert "`stranger`" in told["detail"]


@pytest.mark.parametrize("route", [one for one in READS if one.endswith((".list", ".retrieve"))])
def test_fields_are_chosen_where_the_schema_says_so_and_refused_elsewhere(
    route: str, callers: dict[str, Caller], world: World
) -> None:
    path = world.path(route)
    whole = callers["office"].get(path).json()
    row = whole["results"][0] if "results" in whole else whole
    name = next(iter(row))
    operation = schema()["paths"][operation_of("get", path)]["get"]
    described = {one["name"] for one in operation["parameters"] if one["in"] == "query"}

    answer = callers["office"].get(f"{path}?fields={name}")

    if "fields" in described:
        told = answer.json()
        assert set(told["results"][0] if "results" in told else told) == {name}
    else:
        assert_problem(answer, 400, "unknown_filter", "/fields")
