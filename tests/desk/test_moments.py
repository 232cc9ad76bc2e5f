"""Moments on the office's pages stand by the office's own clock, which they name."""

from typing import Any

import pytest

from contractor.api.desk_values import shown


@pytest.mark.parametrize(
    ("zone", "sent", "words"),
    [
        ("America/Chicago", "2027-03-02T15:05:00Z", "2 Mar 2027, 09:05 CST"),
        ("America/Chicago", "2027-07-02T04:05:00Z", "1 Jul 2027, 23:05 CDT"),
        ("Europe/Lisbon", "2027-07-02T09:05:00-05:00", "2 Jul 2027, 15:05 WEST"),
    ],
)
def test_a_moment_is_told_by_the_offices_clock(
    settings: Any, zone: str, sent: str, words: str
) -> None:
    settings.FIRM_TIME_ZONE = zone

    told = shown(sent, "finished_at")

    assert f">{words}</time>" in told
    assert f'datetime="{sent}"' in told
    assert "UTC" in told.split(">")[0]


def test_what_is_no_moment_stands_as_it_is() -> None:
    assert shown("soon", "finished_at") == "soon"
