"""How is a file read into rows of named cells, and written again? CSV and workbooks."""

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.conf import settings

from contractor.api.problems import Problem
from contractor.api.strict import nearest
from jobs.lists.cells import from_workbook, guarded, to_workbook, unguarded

DELIMITERS = ",;\t"
ZIP_START = b"PK\x03\x04"
MOST_UNPACKED = 60 * 1024 * 1024
MOST_CELL = 32_767  # what a workbook's cell holds
LINE = "\r\n"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the number that it has in the file, and its cells by column."""

    number: int
    cells: dict[str, str]


@dataclass(slots=True)
class Table:
    """What a file holds."""

    columns: list[str]
    rows: list[Row] = field(default_factory=list)


def table_read(content: bytes, columns: Sequence[str], needed: Sequence[str]) -> Table:
    """Read a CSV file or a workbook whose first row names its columns.

    Args:
        content: the file.
        columns: the names that are known.
        needed: the names without which no row could be read.

    Raises:
        Problem: the file as a whole cannot be read; what is wrong in a row is not looked at here.
    """
    if len(content) > settings.LIST_MOST_BYTES:
        raise _bad(
            "list_too_large",
            f"The file has {len(content)} bytes.",
            f"Send at most {settings.LIST_MOST_BYTES} bytes; split it.",
        )
    grid = _workbook(content) if content.startswith(ZIP_START) else _csv(content, columns)
    numbered = [(n, line) for n, line in grid if any(cell.strip() for cell in line)]
    if not numbered:
        raise _bad("list_empty", "The file has no rows.", "Send a first row with names of columns.")
    heads = _heads(numbered[0][1], columns, needed)
    if len(numbered) - 1 > settings.LIST_MOST_ROWS:
        raise _bad(
            "list_too_long",
            f"The file has {len(numbered) - 1} rows.",
            f"Send at most {settings.LIST_MOST_ROWS} rows; split it.",
        )
    return Table(heads, [_row(number, line, heads) for number, line in numbered[1:]])


def _row(number: int, line: list[str], heads: list[str]) -> Row:
    spare = [cell for cell in line[len(heads) :] if cell.strip()]
    cells = dict(zip(heads, map(unguarded, line + [""] * len(heads)), strict=False))
    return Row(number, {**cells, **({"": spare[0]} if spare else {})})


def _heads(line: list[str], columns: Sequence[str], needed: Sequence[str]) -> list[str]:
    heads = [cell.strip().lower() for cell in line]
    while heads and not heads[-1]:
        heads.pop()
    for name in heads:
        if name not in columns:
            text = f"There is no column {name!r}."
            raise _bad("unknown_column", text, nearest(name, columns, "columns"))
        if heads.count(name) > 1:
            raise _bad("column_twice", f"The column {name!r} stands twice.", "Leave one out.")
    missing = [name for name in needed if name not in heads]
    if missing:
        hint = f"Add: {', '.join(missing)}. The exported list has every column."
        raise _bad("column_missing", f"The column {missing[0]!r} is missing.", hint)
    return heads


def _csv(content: bytes, columns: Sequence[str]) -> list[tuple[int, list[str]]]:
    text = _decoded(content)
    first = text.partition("\n")[0]
    delimiter = max(DELIMITERS, key=lambda one: _known(first, one, columns))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    grid, number = [], 1
    try:
        for line in reader:
            grid.append((number, line))
            number = reader.line_num + 1
    except csv.Error as error:
        raise _bad(
            "list_not_understood",
            f"Line {reader.line_num} is no CSV: {error}.",
            "Put a cell with quotes or line ends into quotes, and double the quotes in it.",
        ) from error
    return grid


def _known(line: str, delimiter: str, columns: Sequence[str]) -> int:
    return sum(cell.strip().strip('"').lower() in columns for cell in line.split(delimiter))


def _decoded(content: bytes) -> str:
    wide = content.startswith((b"\xff\xfe", b"\xfe\xff"))
    try:
        text = content.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise _bad(
            "list_not_utf8",
            f"Byte {error.start} is no UTF-8.",
            "Save it as `CSV UTF-8`, or as a workbook (.xlsx).",
        ) from error
    if "\x00" in text:
        hint = "Send CSV or a workbook (.xlsx)."
        raise _bad("list_not_understood", "The file holds U+0000.", hint)
    return text


def _workbook(content: bytes) -> list[tuple[int, list[str]]]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            size = sum(one.file_size for one in packed.infolist())
        if size > MOST_UNPACKED:
            raise _bad("list_too_large", f"Unpacked it has {size} bytes.", "Split it.")
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheet = book.worksheets[0]
        most = settings.LIST_MOST_ROWS + 2
        lines = sheet.iter_rows(values_only=True, max_row=most, max_col=64)
        return [(n, [_cell(one) for one in line]) for n, line in enumerate(lines, 1)]
    except Problem:
        raise
    except Exception as error:  # the library raises whatever its parts raise
        raise _bad(
            "list_not_understood",
            f"The workbook cannot be read: {error}.",
            "Save it anew as .xlsx, or as `CSV UTF-8`.",
        ) from error


def _cell(value: Any) -> str:
    """Write a cell as the text that somebody sees."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return from_workbook(value) if isinstance(value, str) else str(value)


def csv_write(columns: Sequence[str], rows: Iterable[dict[str, str]]) -> bytes:
    """Write rows as CSV (RFC 4180) in UTF-8 with a byte order mark, which spreadsheets ask for."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator=LINE, quoting=csv.QUOTE_MINIMAL)
    writer.writerow(columns)
    for row in rows:
        writer.writerow([guarded(row[name]) for name in columns])
    return stream.getvalue().encode("utf-8-sig")


def workbook_write(title: str, columns: Sequence[str], rows: Iterable[dict[str, str]]) -> bytes:
    """Write rows as a workbook of texts; no cell is a formula."""
    import openpyxl
    from openpyxl.cell import WriteOnlyCell

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet(title)
    sheet.append(list(columns))
    for row in rows:
        cells = []
        for name in columns:
            cell = WriteOnlyCell(sheet, None)
            text = _fitting(to_workbook(guarded(row[name])))
            cell.value, cell.data_type = (text, "s") if text else (None, "n")
            cells.append(cell)
        sheet.append(cells)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _fitting(text: str) -> str:
    if len(text) > MOST_CELL:
        raise Problem(
            "cell_too_long",
            f"A cell of {len(text)} characters fits into no workbook.",
            status=409,
            hint="Take the list as CSV.",
        )
    return text


def _bad(code: str, text: str, hint: str) -> Problem:
    return Problem(code, text, hint=hint, pointer="/file")
