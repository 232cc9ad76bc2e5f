"""Which documents stand behind carrying, sealing, sawing and the clocks, in which edition?"""

from functools import lru_cache

from fitcheck.rules.sources import DOCUMENTS, Document, Source, Status

SITE_DOCUMENTS: dict[str, Document] = {
    "carver": Document("Rectangle in a rectangle, condition of W. B. Carver", "1957 (from memory)"),
    "ladder": Document("Ladder round a corner, by calculus", "-"),
    "cylinder": Document("Geometry of rigid bodies", "-"),
    "fillet": Document("Geometry of a triangular fillet", "-"),
    "c1193": Document("ASTM C1193, Use of joint sealants, as a web page restates it", "-"),
    "c920": Document("ASTM C920, Elastomeric joint sealants", "edition not stated"),
    "c1472": Document("ASTM C1472, Sealant joint width, as a course of 2002 states it", "-"),
    "expansion": Document("A table of thermal expansion of materials", "-"),
    "fluid_ounce": Document("NIST SP 811, Guide for the Use of the SI", "2008"),
    "cure": Document("Moisture cure, depth as the root of time", "from memory"),
    "product": Document("Product data sheet of the sealant", "as given"),
    "packing": Document("Bin packing and cutting stock", "-"),
    "cfr370": Document("49 CFR 370, Processing of claims", "as restated"),
    "usc14706": Document("49 USC 14706, Liability of carriers", "as quoted"),
    "nmfc": Document("NMFC item 300135-A, concealed damage", "18 Apr 2015"),
    "cfr429": Document("16 CFR 429, Cooling-off period", "2021"),
    "usc6103": Document("5 USC 6103, Holidays", "from memory"),
    "ucc": Document("Uniform Commercial Code, 2-602 and 2-607", "as quoted"),
    "calendar": Document("Gregorian calendar", "-"),
}


@lru_cache(maxsize=512)
def site_source(document_id: str, status: Status, clause: str | None = None) -> Source:
    """Return the source behind a number of these tables.

    Args:
        document_id: a key of `SITE_DOCUMENTS` or of `DOCUMENTS` [-].
        status: whether the text was read, remembered, derived, or is ours [-].
        clause: clause, table or equation [-].

    Returns:
        The source as it is printed beside the number [-].
    """
    document = SITE_DOCUMENTS.get(document_id) or DOCUMENTS[document_id]
    return Source(document.title, document.edition, status, clause=clause)
