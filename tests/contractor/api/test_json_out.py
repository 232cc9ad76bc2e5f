"""Does an answer leave as the framework writes it, with kept objects copied word for word?"""

import json
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

import pytest
from django.db.models import TextChoices
from django.utils.translation import gettext_lazy
from rest_framework.renderers import JSONRenderer

from contractor.api.renderers import WrittenRenderer
from contractor.api.written import Written

UID = "0190f7a2-7c1e-7cc0-8a55-2f60a1c0ffee"


class Side(TextChoices):
    LEFT = "left"


PLAIN: list[Any] = [
    {"at": datetime(2026, 3, 8, 2, 30, tzinfo=UTC), "of": datetime(2026, 1, 1, 0, 0, 0, 5, UTC)},
    {"kg": Decimal("41.50"), "id": UUID(UID), "side": Side.LEFT, "says": gettext_lazy("Left")},
    {"two\u2028lines": 'é 玻璃 \u2029 \x7f \x01 "\\'},
    {1: [None, True, 0.1, 2.5e-7, 12_345_678_901_234], Side.LEFT: ()},
    [],
]


@pytest.mark.parametrize("data", PLAIN)
def test_it_says_what_the_framework_says(data: Any) -> None:
    own, framework = WrittenRenderer().render(data), JSONRenderer().render(data)
    assert json.loads(own) == json.loads(framework)
    assert b"\xe2\x80\xa8" not in own
    assert b"\xe2\x80\xa9" not in own


def test_a_kept_object_is_copied_word_for_word() -> None:
    kept = Written('{"b": 1,  "a":"\\u00e9"}')
    assert WrittenRenderer().render([{"result": kept}]) == b'[{"result":{"b": 1,  "a":"\\u00e9"}}]'


def test_an_indent_that_the_media_type_asks_for_is_given() -> None:
    told = WrittenRenderer().render({"a": Written('{"b":1}')}, "application/json; indent=1")
    assert told == b'{\n "a": {\n  "b": 1\n }\n}'


def test_nothing_is_no_body() -> None:
    assert WrittenRenderer().render(None) == b""


def test_an_object_is_written_in_its_order_and_shortest() -> None:
    assert Written.of({"b": "é\u2028", "a": [1, 2]}).text == '{"b":"é\\u2028","a":[1,2]}'
