"""Does paper keep water off for as long as the verdict does?"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.checks.management.table import verdict_page
from fitcheck.rules.sealing_told import hours_told
from jobs.packets.paper.handing import care_page

BYPASS = Path(__file__).parents[2] / "fitcheck/data/inputs_bypass.json"
FIRST = {"cure_hours": 28}
SILENT = {"cure_hours": 28, "sealing": {"cure": None}}
LONGER = {"cure_hours": 48, "sealing": {"cure": {"hours": "60.5"}}}
NO_RUN = {"cure_hours": 24, "sealing": None}


@pytest.mark.parametrize(
    ("verdict", "hours"),
    [(FIRST, "28"), (SILENT, None), (LONGER, "60.5"), (NO_RUN, "24"), ({}, None)],
)
def test_the_longer_of_sheet_and_product_is_told(verdict: dict[str, Any], hours: str) -> None:
    assert hours_told(verdict) == hours


def test_the_customer_s_page_counts_the_product_s_hours_from_the_bead() -> None:
    work = {"bead_at": "2026-12-02T12:00:00-06:00", "zone": "America/Chicago"}
    page = care_page({"verdict": LONGER, "work": work})
    assert page["cure"] == "60.5 hours"
    assert page["first"] == "Sat 05 Dec 2026, 00:30"


def test_a_product_that_does_not_speak_leaves_a_question_not_the_sheet_s_hours() -> None:
    page = care_page({"verdict": SILENT, "work": {"bead_at": "2026-12-02T12:00:00-06:00"}})
    assert (page["cure"], page["first"]) == (None, None)


def test_the_terminal_tells_the_same() -> None:
    fits: dict[str, Any] = check(json.loads(BYPASS.read_text(encoding="utf-8"))).as_json()
    fits["sealing"]["cure"] = {"hours": "60.5"}
    assert "; 60.5 h of cure." in verdict_page(fits, 100)
