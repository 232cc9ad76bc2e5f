"""Are all words of the papers in the catalogues? `python .ci/words.py` brings them up to date.

It reads what the code says (`say("…")`, `noted(…)`), the templates (`t("…")`) and `sentences.txt`, adds
what a catalogue lacks, drops what nobody says any more, and
compiles. New entries wait, empty, for a translator.
"""

import ast
import io
import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[1]
ROOM = ROOT / "jobs" / "packets"
sys.path.insert(0, str(ROOT))
from jobs.packets.paper.sentences import SENTENCES  # noqa: E402
from jobs.packets.paper.words import DOMAIN, LANGUAGES, LOCALE, said_in_templates  # noqa: E402


def said() -> list[str]:
    """Return every text that can be printed, each once, in the order of the files."""
    texts = [text for path in sorted(ROOM.rglob("*.py")) for text in _said_in(path)]
    return list(dict.fromkeys([*texts, *SENTENCES, *said_in_templates()]))


def _said_in(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        name = (
            node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
        )
        if name == "say" and isinstance(node.args[0], ast.Constant):
            yield node.args[0].value
        elif name == "noted":
            yield from _texts(node.args[0])


def _texts(node: ast.AST) -> Iterator[str]:
    """Yield the texts of a literal; a key is one too when it is written with a capital."""
    if isinstance(node, ast.Constant):
        yield node.value
    elif isinstance(node, ast.Dict):
        keys = [k.value for k in node.keys if isinstance(k, ast.Constant)]
        yield from (key for key in keys if key[:1].isupper())
        for value in node.values:
            yield from _texts(value)
    elif isinstance(node, ast.Tuple):
        for value in node.elts:
            yield from _texts(value)


def po_of(language: str) -> Path:
    """Return where a language's words stand."""
    return LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def read(language: str) -> Catalog:
    """Return a language's catalogue; an empty one when there is none yet."""
    path = po_of(language)
    if not path.exists():
        return Catalog(locale=language, domain=DOMAIN)
    with path.open("rb") as file:
        return read_po(file, locale=language, domain=DOMAIN)


def renewed(language: str) -> Catalog:
    """Return a language's catalogue with all that is said now and nothing else."""
    old, texts = read(language), said()
    new = Catalog(locale=language, domain=DOMAIN, project="papers", fuzzy=False)
    new.creation_date = new.revision_date = old.creation_date
    for text in texts:
        known = old.get(text)
        new.add(text, known.string if known else "")
    return new


def po_bytes(catalog: Catalog) -> bytes:
    """Return a catalogue as it stands in its file."""
    stream = io.BytesIO()
    write_po(stream, catalog, width=100, omit_header=False, sort_output=True)
    return stream.getvalue()


def mo_bytes(catalog: Catalog) -> bytes:
    """Return a catalogue compiled."""
    stream = io.BytesIO()
    write_mo(stream, catalog)
    return stream.getvalue()


def main() -> None:
    """Bring every language's catalogue up to date and say what waits for a translator."""
    for language in LANGUAGES[1:]:
        catalog = renewed(language)
        path = po_of(language)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(po_bytes(catalog))
        path.with_suffix(".mo").write_bytes(mo_bytes(catalog))
        waiting = [one.id for one in catalog if one.id and not one.string]
        print(
            f"{language}: {len(catalog)} texts, {len(waiting)} without words", *waiting, sep="\n  "
        )


if __name__ == "__main__":
    main()
