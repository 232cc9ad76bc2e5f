"""Which document, in which edition, stands behind a number, and has anybody read it?"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

Status = Literal[
    "kit sheet",
    "published",
    "from memory",
    "derived",
    "house setting",
    "common practice, no source",
]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a limit comes from, down to the clause or page."""

    document: str
    edition: str
    status: Status
    clause: str | None = None
    page: str | None = None

    def as_json(self) -> dict[str, str | None]:
        """Return the source as plain JSON."""
        page, named = ("clause", self.clause) if self.page is None else ("page", self.page)
        return {
            "document": self.document,
            "edition": self.edition,
            page: named,
            "status": self.status,
        }


@dataclass(frozen=True, slots=True)
class Document:
    """A standard, law or handbook in one edition."""

    title: str
    edition: str


DOCUMENTS: dict[str, Document] = {
    "sp811": Document("NIST SP 811, Guide for the Use of the SI", "2008"),
    "mid": Document("Measuring instruments, annex X (MI-008), chapter I", "2014/32/EU"),
    "hb44": Document("NIST Handbook 44, section 5.52, metal tapes", "edition not stated"),
    "gum": Document("JCGM 100, Guide to the expression of uncertainty in measurement", "2008"),
    "jcgm106": Document("JCGM 106, The role of measurement uncertainty in conformity", "2012"),
    "en572": Document(
        "EN 572-1, Soda-lime glass, as restated by a glass handbook", "edition not stated"
    ),
    "c1036": Document(
        "ASTM C1036, Flat glass, as restated by a window-film association", "edition not stated"
    ),
    "c1048": Document(
        "ASTM C1048, Tempered flat glass, as two suppliers restate it", "edition not stated"
    ),
    "en12150": Document("EN 12150-1, Thermally toughened soda lime silicate glass", "2015"),
    "cpsc1201": Document("16 CFR 1201, Safety standard for architectural glazing", "as in force"),
    "niosh": Document("DHHS (NIOSH) 94-110, Revised lifting equation, as transcribed", "rev. 2021"),
    "hse_l23": Document("HSE L23, Manual handling, guidance on regulations", "edition not stated"),
    "iso11228": Document("ISO 11228-1, Ergonomics: lifting and carrying", "from memory"),
    "b1861": Document("ASME B18.6.1, Wood screws", "1981 (from memory)"),
    "nds": Document("National Design Specification for Wood Construction", "2018"),
    "nec": Document("NFPA 70, National Electrical Code", "edition not stated"),
    "silica": Document("29 CFR 1926.1153, Respirable crystalline silica", "as in force"),
    "asbestos": Document("29 CFR 1926.1101, Asbestos", "as in force"),
    "lead": Document("40 CFR 745, subpart E, Renovation", "as in force"),
    "c920": Document("ASTM C920, Elastomeric joint sealants", "edition not stated"),
    "eye": Document("29 CFR 1926.102, Eye and face protection", "as in force"),
    "trade": Document("Practice of the trade", "-"),
    "house": Document("The firm's own settings", "1"),
}


@lru_cache(maxsize=512)
def source(document_id: str, status: Status, clause: str | None = None) -> Source:
    """Return the source behind a number.

    Args:
        document_id: a key of `DOCUMENTS` [-].
        status: whether the text was read, remembered, derived, or is ours [-].
        clause: clause, table or equation [-].

    Returns:
        The source as it is printed beside the number [-].
    """
    document = DOCUMENTS[document_id]
    return Source(document.title, document.edition, status, clause=clause)
