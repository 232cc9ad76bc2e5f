"""NFPA 70 (NEC) 300.4(A)(1) and (D): 1 1/4 in from the face of a stud; the text was read.

Beyond that depth a screw may meet a cable or pipe that nobody had to protect with a plate. IRC
P2603.2.1 has the same depth, UPC 312.9 has 1 in, IMC 305 has 1 1/2 in, each read as quoted: where they
rule the firm sets its depth to theirs, and the finding names them.
"""

from typing import Any

import pytest

from fitcheck.rules import holding, tables
from fitcheck.rules.length import length_parse, mm_text
from fitcheck.rules.screws import least_penetration_nm
from fitcheck.rules.tables_hazards import PIPES_UPC
from tests.fitcheck.rules.holding_cases import asked, by_rule, wood


def test_the_protected_depth_is_one_and_a_quarter_inch() -> None:
    assert tables.PROTECTED_ZONE.value == "1 1/4 in"
    assert tables.PROTECTED_ZONE.source.clause == "300.4(A)(1), (D)"


@pytest.mark.parametrize(("number", "within"), [(8, True), (10, True), (12, False), (14, False)])
def test_number_12_and_14_cannot_go_six_diameters_deep_and_stay_within_it(
    number: int, within: bool
) -> None:
    depth = length_parse(tables.PROTECTED_ZONE.value).nm

    assert (least_penetration_nm(number) <= depth) is within


@pytest.mark.parametrize(("number", "within"), [(8, True), (10, False), (12, False)])
def test_number_10_cannot_go_six_diameters_deep_and_stay_within_an_inch(
    number: int, within: bool
) -> None:
    assert (least_penetration_nm(number) <= length_parse(PIPES_UPC.value).nm) is within


@pytest.mark.parametrize(
    ("safe_reach", "document", "clause"),
    [
        ("1 1/4 in", "NFPA 70, National Electrical Code", "300.4(A)(1), (D)"),
        ("1 in", "Uniform Plumbing Code", "312.9"),
        ("1 1/2 in", "International Mechanical Code", "305"),
        ("3/4 in", "The firm's own settings", "safe_reach"),
    ],
)
def test_whose_depth_it_is_that_the_firm_keeps(safe_reach: str, document: str, clause: str) -> None:
    answer: Any = holding.answer(asked(wood(), house={"safe_reach": safe_reach}))
    found = by_rule(answer)["fixing.services"]

    assert found["limit"]["mm"] == mm_text(length_parse(safe_reach).nm)
    assert (found["source"]["document"], found["source"]["clause"]) == (document, clause)
