"""Is no cell run as a formula, and does every text come back as it was?"""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st

from contractor.api.problems import Problem
from jobs.lists.cells import guarded, unguarded
from jobs.lists.table import csv_write, table_read, workbook_write

TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=30)
COLUMNS = ("id", "name", "notes")


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("=1+1", "'=1+1"),
        ("+15555550123", "'+15555550123"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("-2+3", "'-2+3"),
        ("-87.629799", "-87.629799"),
        ("\t=1", "'\t=1"),
        ("'t Hooft", "'t Hooft"),
        ("'=1", "''=1"),
        ("plain", "plain"),
    ],
)
def test_a_cell_that_would_run_is_kept_as_text(text: str, kept: str) -> None:
    assert guarded(text) == kept
    assert unguarded(kept) == text


@given(TEXTS)
def test_a_guard_is_taken_away_again(text: str) -> None:
    assert unguarded(guarded(text)) == text


@tries(max_examples=60, deadline=None)
@given(st.lists(st.tuples(TEXTS, TEXTS), min_size=1, max_size=4))
def test_csv_comes_back_as_it_was_written(pairs: list[tuple[str, str]]) -> None:
    rows = [{"id": str(n), "name": a, "notes": b} for n, (a, b) in enumerate(pairs)]
    table = table_read(csv_write(COLUMNS, rows), COLUMNS, ("name",))
    assert [row.cells for row in table.rows] == rows


@tries(max_examples=25, deadline=None)
@given(st.lists(st.tuples(TEXTS, TEXTS), min_size=1, max_size=3))
def test_a_workbook_comes_back_as_it_was_written(pairs: list[tuple[str, str]]) -> None:
    rows = [{"id": str(n), "name": a, "notes": b} for n, (a, b) in enumerate(pairs)]
    table = table_read(workbook_write("list", COLUMNS, rows), COLUMNS, ("name",))
    assert [row.cells for row in table.rows] == rows


def test_csv_is_what_the_standard_reader_reads() -> None:
    written = csv_write(COLUMNS, [{"id": "1", "name": 'He said "no"', "notes": "a\nb, c"}])
    lines = list(csv.reader(io.StringIO(written.decode("utf-8-sig"), newline="")))
    assert lines == [list(COLUMNS), ["1", 'He said "no"', "a\nb, c"]]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_delimiter_and_encoding_are_found_out(encoding: str, delimiter: str) -> None:
    text = delimiter.join(COLUMNS) + "\r\n" + delimiter.join(["", "山根 由佳", "x"]) + "\r\n"
    (row,) = table_read(text.encode(encoding), COLUMNS, ("name",)).rows
    assert row.cells == {"id": "", "name": "山根 由佳", "notes": "x"}


def test_a_row_is_counted_as_the_file_counts_it() -> None:
    table = table_read(b'name,notes\r\n"a","two\nlines"\r\n\r\nb,c\r\n', COLUMNS, ("name",))
    assert [row.number for row in table.rows] == [2, 5]


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "list_empty"),
        (b"nmae\nx\n", "unknown_column"),
        (b"name,name\nx,y\n", "column_twice"),
        (b"notes\nx\n", "column_missing"),
        ("name\nJosé\n".encode("latin-1"), "list_not_utf8"),
        (b"name\na\x00b\n", "list_not_understood"),
        (b'name\n"a"b\n', "list_not_understood"),
        (b"PK\x03\x04 no workbook", "list_not_understood"),
        (b"name\n" + b"x" * 9_000_000, "list_too_large"),
        (b"name\n" + b"x\n" * 6000, "list_too_long"),
    ],
)
def test_a_file_that_is_no_list_is_refused_with_what_to_do(content: bytes, code: str) -> None:
    with pytest.raises(Problem) as refused:
        table_read(content, COLUMNS, ("name",))
    assert refused.value.code == code
    assert refused.value.hint
