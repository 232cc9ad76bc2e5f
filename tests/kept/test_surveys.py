"""Every survey is still read, or refused, as it was kept: each default, each word.

`surveys/<version of the rules>.json`: inputs of kept verdicts with one member changed or left out, and what
that changed in the survey and settings that were read, or the mistakes that were told. Never rewritten,
only added to.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules import RULES_VERSION
from fitcheck.rules.asked_case import CASE
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import house_read, survey_read
from tests.kept.members import changed, difference, told

HERE = Path(__file__).parent
KEPT = json.loads((HERE / "surveys" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))


def inputs_of(name: str) -> Any:
    verdict = HERE / "verdicts" / RULES_VERSION / f"{name}.json"
    return json.loads(verdict.read_text(encoding="utf-8"))["inputs"]


def read(inputs: Any) -> dict[str, Any]:
    try:
        check(inputs)
    except InputErrors as wrong:
        return {"errors": [one.as_json() for one in wrong.errors]}
    own = Strict.open(inputs, CASE, "", [])
    return {"read": {**dict(told(survey_read(own))), **dict(told(house_read(own), "/house"))}}


@pytest.mark.parametrize("name", sorted(KEPT["whole"]))
def test_a_kept_survey_is_read_as_before(name: str) -> None:
    assert read(inputs_of(name)) == {"read": KEPT["whole"][name]}


@pytest.mark.parametrize("number", range(len(KEPT["changed"])))
def test_a_changed_survey_is_read_or_refused_as_before(number: int) -> None:
    kept = KEPT["changed"][number]
    found = read(changed(inputs_of(kept["of"]), kept))

    if "errors" in kept:
        assert found == {"errors": kept["errors"]}
    else:
        assert difference(KEPT["whole"][kept["of"]], found["read"]) == kept["read"]
