"""49 CFR 370.3, what a claim is: quoted and read; 370.5 and 370.9, processing of claims, as restated:
30 days, 120 days, then every 60.
"""

from datetime import date

import pytest

from fitcheck.rules.clocks import claim_clocks, claim_floor


@pytest.mark.parametrize(
    ("received", "acknowledge", "resolve"),
    [
        ("2026-03-02", "2026-04-01", "2026-06-30"),
        ("2026-01-31", "2026-03-02", "2026-05-31"),
        ("2027-01-15", "2027-02-14", "2027-05-15"),
    ],
)
def test_acknowledge_and_resolve(received: str, acknowledge: str, resolve: str) -> None:
    first, second = claim_clocks(date.fromisoformat(received), 0)

    assert first.ends == date.fromisoformat(acknowledge)
    assert second.ends == date.fromisoformat(resolve)
    assert first.began == second.began == date.fromisoformat(received)
    assert (first.source.clause, second.source.clause) == ("370.5", "370.9(a)")


@pytest.mark.parametrize(
    "element", ["in writing", "name the shipment", "liable", "ask for an amount", "is no claim"]
)
def test_370_3_what_makes_a_writing_a_claim_is_told_with_its_clock(element: str) -> None:
    assert element in claim_floor(date(2026, 3, 2)).do


def test_status_is_due_every_sixty_days_after_that() -> None:
    ends = [clock.ends for clock in claim_clocks(date(2026, 3, 2), 2)]

    assert ends[2:] == [date(2026, 8, 29), date(2026, 10, 28)]
