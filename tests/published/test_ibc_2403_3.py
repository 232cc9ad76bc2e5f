"""IBC 2403.3, read: an edge of glass bends by span/175 at most, square to the pane; IBC 1604.3 has
span/360 for brittle finishes. Neither speaks of the sag of a door's rail, for which no code's figure was
found: span/360 is the firm's own. 60 in: .3429 and .1667; 72 in: .4114 and .2000, computed.
"""

from typing import Any

import pytest

from fitcheck.rules import rail
from fitcheck.rules.length import NM_PER_INCH, length_parse
from fitcheck.rules.rail_beam import Load, greatest_sag, section_bar

PSI = 10.0e6


def sag_of(span: str, pounds: float) -> dict[str, Any]:
    """Ask of one panel that hangs from the middle of a bar 3/8 in x 2 in."""
    middle = length_parse(span).nm / NM_PER_INCH / 2
    panel = {"mass": f"{pounds / 2.2046226218:.4f} kg", "roller_spacing": "0.01 in"}
    travel = {"first_from": f"{middle - 0.005:g} in", "first_to": f"{middle - 0.005:g} in"}
    question = {"span": span, "shape": "bar", "width": "3/8 in", "height": "2 in"}
    question["rail_mass"] = "0.01 g"
    found: Any = rail.answer(question | {"panels": [panel | travel]})
    (sag,) = [one for one in found["findings"] if one["rule"] == "rail.sag"]
    return sag  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("span", "code", "firm"), [("60 in", 0.3429, 0.1667), ("72 in", 0.4114, 0.2000)]
)
def test_a_rail_that_sags_as_much_as_glass_may_bend_asks_for_care(
    span: str, code: float, firm: float
) -> None:
    inches = length_parse(span).nm / NM_PER_INCH
    stiffness = PSI * section_bar(0.375, 2.0).inertia
    pounds = code / greatest_sag(inches, stiffness, (Load(1.0, inches / 2),)).value

    sag = sag_of(span, pounds)

    assert length_parse(sag["limit"]["mm"]).nm / NM_PER_INCH == pytest.approx(firm, abs=5e-5)
    assert sag["state"] == "tight"
    assert sag_of(span, pounds * firm / code * 0.98)["state"] == "fits"
