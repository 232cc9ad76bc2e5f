"""Which documents stand behind the adjusted opening, the chance of the whole and the catalogue?"""

from functools import lru_cache

from fitcheck.rules.sources import DOCUMENTS, Document, Source, Status

SHAPE_DOCUMENTS: dict[str, Document] = {
    "snooping": Document(
        "Testing of networks by data snooping (Baarda), as a public survey program's guide has it",
        "1968, as restated",
    ),
}


@lru_cache(maxsize=512)
def shape_source(document_id: str, status: Status, clause: str | None = None) -> Source:
    """Return the source behind a number of these tables.

    Args:
        document_id: a key of `SHAPE_DOCUMENTS` or of `DOCUMENTS` [-].
        status: whether the text was read, remembered, derived, or is ours [-].
        clause: clause, table or equation [-].

    Returns:
        The source as it is printed beside the number [-].
    """
    document = SHAPE_DOCUMENTS.get(document_id) or DOCUMENTS[document_id]
    return Source(document.title, document.edition, status, clause=clause)
