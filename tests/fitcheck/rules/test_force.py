"""Forces are printed so that a load is never said too small, nor a capacity too large."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.compare import Asked
from fitcheck.rules.force import Share, force_json, holds, newton_to_lbf, share_text, weight_lbf
from fitcheck.rules.quantity import UG_PER_KG, UG_PER_LB, force_parse
from fitcheck.rules.sources import source

ASKED = Asked("rule", "question", "place", source("house", "house setting", "x"), "remedy")


def test_a_pound_of_mass_weighs_a_pound_of_force() -> None:
    assert weight_lbf(UG_PER_LB) == pytest.approx(1.0)
    assert weight_lbf(36 * UG_PER_KG) == pytest.approx(79.366, abs=1e-3)


def test_newtons_and_pounds() -> None:
    assert newton_to_lbf(force_parse("1 lbf")) == pytest.approx(1.0)
    assert newton_to_lbf(force_parse("100 N")) == pytest.approx(22.4809, abs=1e-4)


def test_a_load_rounds_up_and_a_capacity_down() -> None:
    assert force_json(33.41, "up") == {"lbf": "33.5 lbf", "newton": "148.7 N", "rounded": "up"}
    assert force_json(33.49, "down")["lbf"] == "33.4 lbf"
    assert force_json(45.00000000000001, "up")["lbf"] == "45.0 lbf"
    assert share_text(0.641) == "0.65"
    assert share_text(0.64) == "0.64"


@given(st.floats(0, 1e6))
def test_printing_never_flatters(value: float) -> None:
    up = float(force_json(value, "up")["lbf"].split()[0])
    down = float(force_json(value, "down")["lbf"].split()[0])

    assert down - 1e-6 <= value <= up + 1e-6
    assert up - down <= 0.1 + 1e-6


@pytest.mark.parametrize(
    ("load", "state"), [(89, "fits"), (90, "fits"), (91, "tight"), (100, "tight"), (101, "fails")]
)
def test_a_share_has_a_state(load: float, state: str) -> None:
    share = Share(load, 100)

    assert share.state == state
    assert holds(ASKED, share).state == state


def test_what_is_to_be_done_follows_the_share() -> None:
    assert holds(ASKED, Share(50, 100)).do == "Nothing to do: 0.50 of it is used."
    assert holds(ASKED, Share(95, 100)).do.startswith("Have it looked at by the crew lead: 0.95")
    assert holds(ASKED, Share(150, 100)).do == "remedy"


def test_nothing_holds_nothing() -> None:
    share = Share(1.0, 0.0)

    assert share.state == "fails"
    assert share.as_json()["used"] is None
    assert Share(1.0, 2.0).as_json() == {
        "load": force_json(1.0, "up"),
        "holds": force_json(2.0, "down"),
        "used": "0.50",
        "state": "fits",
    }
