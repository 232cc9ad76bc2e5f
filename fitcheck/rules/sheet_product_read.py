"""How is the sealant that a sheet names read?"""

from fitcheck.rules.sealing import cartridge_read, cure_row_read, said
from fitcheck.rules.sheet_more import (
    SealantProduct,
)
from fitcheck.rules.strict import Strict
from fitcheck.rules.tables_sealing import WASTE_PERCENT

PRODUCT = (
    *("title", "edition", "cartridge", "waste_percent"),
    *("rows", "celsius", "humidity", "page"),
)


ROW = ("least_celsius", "least_humidity", "mm_per_root_day", "hours", "up_to")


def product_read(own: Strict) -> SealantProduct:
    """Read the sealant that the sheet names, with the air its cure is told for."""
    return SealantProduct(
        own.text("title"),
        own.text("edition"),
        cartridge_read(own),
        own.number("waste_percent", "0", "200", WASTE_PERCENT.value),
        tuple(cure_row_read(each) for each in own.children("rows", ROW, least=1, most=20)),
        said(own, "celsius", "-20", "50"),
        said(own, "humidity", "0", "100"),
        own.text("page"),
    )
