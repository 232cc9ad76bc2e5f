"""How does money stand on the wire? An amount as a decimal string, and its currency beside it."""

import re
from typing import Any

from rest_framework import serializers

from contractor.api.problems import FieldProblem

CURRENCY = re.compile(r"[A-Z]{3}")


class CurrencyField(serializers.CharField):
    """A currency by its three letters of ISO 4217: `USD`."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("help_text", "Three letters: USD.")
        super().__init__(max_length=3, **kwargs)

    def to_internal_value(self, data: Any) -> str:
        """Check that it is three capital letters."""
        text: str = super().to_internal_value(data)
        if text and not CURRENCY.fullmatch(text):
            raise FieldProblem("not_a_currency", f"{text!r} is no currency.", "Send USD.")
        return text


class MoneyField(serializers.DecimalField):
    """An amount as a decimal string, `"120.00"`; its currency stands beside it."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_digits=12, decimal_places=2, min_value=0, **kwargs)
