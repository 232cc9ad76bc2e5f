"""House setting: a width six inches from the others is asked about before it is believed."""

from collections.abc import Callable
from typing import Any

import pytest

from fitcheck.rules.plausible import implausible_widths
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import Survey, survey_read

Inputs = dict[str, Any]
Read = Callable[..., None]


def survey_of(inputs: Inputs) -> Survey:
    return survey_read(Strict(inputs))


def test_ordinary_widths_are_believed(bypass: Inputs) -> None:
    assert implausible_widths(survey_of(bypass)) == []


@pytest.mark.parametrize(
    ("written", "meant"),
    [("58.3125 cm", "58.3125 in"), ("58 mm", "58 in"), ("148 mm", "148 cm"), ("148 in", "148 cm")],
)
def test_a_width_in_the_wrong_unit_is_named_with_what_was_meant(
    bypass: Inputs, read: Read, written: str, meant: str
) -> None:
    read(bypass, "width", written, height="0 in")

    found = implausible_widths(survey_of(bypass))

    assert [one.code for one in found] == ["reading_implausible"]
    assert f'Did you mean "{meant}"?' in found[0].hint


def test_of_two_widths_only_the_one_that_a_slip_explains_is_asked_about(
    bypass: Inputs, read: Read
) -> None:
    for height in ("36 in", "72 in"):
        read(bypass, "width", None, height=height)
    read(bypass, "width", "58.3125 cm", height="0 in")
    bypass["readings"] += [
        {**one, "id": "again", "height": "72 in", "value": "58 1/4 in"}
        for one in bypass["readings"]
        if one["quantity"] == "width"
    ]

    found = implausible_widths(survey_of(bypass))

    assert len(found) == 1
    assert "58.3125 cm" in found[0].detail


def test_a_confirmed_width_is_believed(bypass: Inputs, read: Read) -> None:
    read(bypass, "width", "40 in", height="0 in")
    survey = survey_of(bypass)
    odd = next(one for one in survey.readings if one.value.entered == "40 in")

    assert implausible_widths(survey) != []
    assert implausible_widths(survey, frozenset({odd.id})) == []


def test_one_width_alone_has_nothing_to_be_far_from(bypass: Inputs, read: Read) -> None:
    for height in ("36 in", "72 in"):
        read(bypass, "width", None, height=height)

    assert implausible_widths(survey_of(bypass)) == []
