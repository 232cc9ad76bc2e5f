"""Which documents stand behind loads, screws, beams, panes and the saw, in which edition?"""

from functools import lru_cache

from fitcheck.rules.sources import DOCUMENTS, Document, Source, Status

STRUCTURE_DOCUMENTS: dict[str, Document] = {
    "tr12": Document("AWC TR12, General dowel equations", "from memory"),
    "nds12k": Document("National Design Specification, table 12K, as scanned", "2018"),
    "s100": Document("AISI S100, Cold-formed steel structural members", "2016"),
    "cfsei": Document("CFSEI F701, Screw strength, as quoted in load tables", "2012"),
    "ssma": Document("Thickness of cold-formed steel framing, as printed in load tables", "-"),
    "aci318": Document(
        "ACI 318, Structural concrete, as a maker's design guide restates it", "2019"
    ),
    "c90": Document("ASTM C90, Concrete masonry units", "from memory"),
    "report": Document("Evaluation report of the anchor", "as given"),
    "alloy": Document("Aluminium 6063, minimum properties of an alloy table", "-"),
    "adm": Document("Aluminum Design Manual", "2020 (from memory)"),
    "irc": Document("International Residential Code", "2021, as restated"),
    "tcna": Document("Handbook for ceramic tile, shower receptors", "from memory"),
    "ada": Document("ADA standards for accessible design", "2010"),
    "z97": Document("ANSI Z97.1, Safety glazing materials, as summarised", "2015"),
    "en12600": Document("EN 12600, Pendulum test, as summarised", "edition not stated"),
    "en572_2": Document("EN 572-2, Float glass", "from memory"),
    "temperer": Document("A temperer's production quality standards", "-"),
    "upc": Document("Uniform Plumbing Code", "edition not stated"),
    "imc": Document("International Mechanical Code", "edition not stated"),
    "isea105": Document("ANSI/ISEA 105, Hand protection", "2016, as glove makers quote it"),
    "gum1": Document("JCGM 100, Guide to the expression of uncertainty in measurement", "2008"),
}


@lru_cache(maxsize=512)
def structure_source(document_id: str, status: Status, clause: str | None = None) -> Source:
    """Return the source behind a number of these tables.

    Args:
        document_id: a key of `STRUCTURE_DOCUMENTS` or of `DOCUMENTS` [-].
        status: whether the text was read, remembered, derived, or is ours [-].
        clause: clause, table or equation [-].

    Returns:
        The source as it is printed beside the number [-].
    """
    document = STRUCTURE_DOCUMENTS.get(document_id) or DOCUMENTS[document_id]
    return Source(document.title, document.edition, status, clause=clause)
