"""A process that is asked about ever new sheets does not keep them all."""

import gc
from dataclasses import replace
from typing import Any

from fitcheck.check import check, sheet_parse
from fitcheck.rules.sheet import Sheet

KEPT, ASKED = 512, 560
INVENTED = "invented edition"


def invented_alive() -> int:
    gc.collect()
    sheets = [one for one in gc.get_objects() if type(one) is Sheet]
    return sum(sheet.document.edition == INVENTED for sheet in sheets)


def test_the_oldest_of_many_sheets_is_forgotten(bypass: dict[str, Any]) -> None:
    sheet = sheet_parse(bypass["sheet"])
    for _ in range(ASKED):
        check(bypass, replace(sheet, document=replace(sheet.document, edition=INVENTED)))

    assert 0 < invented_alive() <= KEPT
