"""Every survey is still read, or refused, as it was kept: each default, each word.

`surveys/<version of the rules>.json`: inputs of kept verdicts with one member changed or left out, and what
that changed in the survey and settings that were read, or the mistakes that were told. Never rewritten,
only added to.
"""

import json
from pathlib import Path

import pytest

from fitcheck.rules import RULES_VERSION
from tests.kept.members import changed, difference, inputs_of, survey_told

HERE = Path(__file__).parent
KEPT = json.loads((HERE / "surveys" / f"{RULES_VERSION}.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", sorted(KEPT["whole"]))
def test_a_kept_survey_is_read_as_before(name: str) -> None:
    assert survey_told(inputs_of(name)) == {"read": KEPT["whole"][name]}


@pytest.mark.parametrize("number", range(len(KEPT["changed"])))
def test_a_changed_survey_is_read_or_refused_as_before(number: int) -> None:
    kept = KEPT["changed"][number]
    found = survey_told(changed(inputs_of(kept["of"]), kept))

    if "errors" in kept:
        assert found == {"errors": kept["errors"]}
    else:
        assert difference(KEPT["whole"][kept["of"]], found["read"]) == kept["read"]
