"""16 CFR 1201.2(a)(3)-(4), categories of architectural glazing; the current text was read."""

import pytest

from fitcheck.rules.glass import Category, safety_category


@pytest.mark.parametrize(
    ("product", "square_feet", "category"),
    [
        ("shower door", 5.0, "II"),
        ("shower enclosure", 20.0, "II"),
        ("bathtub door", 1.0, "II"),
        ("sliding patio door", 8.0, "II"),
        ("interior door", 9.00, "I"),
        ("interior door", 9.01, "II"),
        ("storm door", 9.0, "I"),
    ],
)
def test_nine_square_feet_never_lowers_a_shower_panel(
    product: str, square_feet: float, category: Category
) -> None:
    assert safety_category(product, square_feet) == category
