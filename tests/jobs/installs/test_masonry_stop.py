"""Does the hold point before drilling ask a masonry wall for its edge and not for a stud's middle?"""

from typing import Any

from fitcheck.rules.sheet_parse import sheet_parse
from jobs.installs.reread import zones_read
from jobs.installs.stops import stops_for
from tests.fitcheck.rules.test_masonry_in_verdict import cellar, wall


def asked(inputs: dict[str, Any], *, walls_known: bool = True) -> list[tuple[str, str]]:
    zones = zones_read(inputs["zones"]) if walls_known else ()
    stops = stops_for(sheet_parse(inputs["sheet"]), None, zones)
    (stop,) = (one for one in stops if one["key"] == "backing_located")
    return [(n["quantity"], n["side"]) for n in stop["needs"] if n["kind"] == "reading"]


def test_each_wall_is_asked_for_what_it_has() -> None:
    inputs = cellar()
    assert asked(inputs) == [("masonry_edge", "left"), ("masonry_edge", "right")]

    wall(inputs, "left")["structure"] = "blocking"
    assert asked(inputs) == [("backing_centre", "left"), ("masonry_edge", "right")]


def test_without_an_anchors_report_no_distance_of_masonry_is_asked() -> None:
    inputs = cellar()
    del inputs["sheet"]["anchors"]

    assert asked(inputs) == []


def test_walls_that_nobody_surveyed_are_asked_for_their_studs() -> None:
    expected = [("backing_centre", "left"), ("backing_centre", "right")]

    assert asked(cellar(), walls_known=False) == expected
