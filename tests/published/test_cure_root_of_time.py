"""Moisture cure of one-part silicone, depth = k sqrt(t): from memory; k is the product's, never ours.

With k = 3 mm per root of a day, 6 mm take 4 days and 9 mm take 9, computed.
"""

from decimal import Decimal

import pytest

from fitcheck.rules.cure import Conditions, CureRow, depth_hours, product_hours

MM = 10**6


@pytest.mark.parametrize(("depth", "days"), [(3, 1), (6, 4), (9, 9)])
def test_time_goes_with_the_square_of_the_depth(depth: int, days: int) -> None:
    assert depth_hours(depth * MM, Decimal(3)) == 24 * days


def test_without_the_products_rate_nothing_is_told() -> None:
    air = Conditions(Decimal(23), Decimal(50))
    plain = CureRow(Decimal(5), Decimal(30), None, Decimal(24), 6 * MM)

    assert product_hours((), 6 * MM, air) is None
    assert product_hours((plain,), 6 * MM, air) == 24
    assert product_hours((plain,), 6 * MM + 1, air) is None
