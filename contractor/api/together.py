"""How does one write ask and tell the database everything at once? In one round trip on PostgreSQL."""

from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import lru_cache
from typing import Any

import orjson
from django.db import connection, models
from psycopg.types.json import Jsonb

FEW = 2
Query = tuple[str, list[Any]]


def select_together(*queries: Query) -> list[list[tuple[Any, ...]]]:
    """Ask several questions in the order given; each sees what the ones before it waited for.

    Returns:
        The rows of each, as the database gives them, without the models' conversions.
    """
    with ExitStack() as held, _one_trip():
        cursors = [held.enter_context(connection.cursor()) for _ in queries]
        for cursor, (text, values) in zip(cursors, queries, strict=True):
            cursor.execute(text, values)
        return [cursor.fetchall() for cursor in cursors]


def insert_together(*groups: Sequence[models.Model]) -> None:
    """Write new rows of several tables in the order given; call it inside a transaction.

    Writes every column but a key that the database gives out, which is not read back. Sends no
    signals. PostgreSQL takes all statements in one trip, and many rows of one table as one JSON
    text; SQLite, where nothing travels, takes them table by table.

    Raises:
        IntegrityError: a row is there already, or a constraint refuses it; nothing is written.
    """
    filled = [group for group in groups if group]
    with connection.cursor() as cursor, _one_trip():
        for group in filled:
            if connection.vendor == "postgresql":
                cursor.execute(*_part(group))
            else:
                statement, fields = _statement(type(group[0]))
                cursor.executemany(statement, [_stored(fields, row) for row in group])


@contextmanager
def _one_trip() -> Iterator[None]:
    """Let what is asked meanwhile travel to PostgreSQL together; its refusal comes at the end."""
    if connection.vendor != "postgresql":
        yield
        return
    connection.ensure_connection()
    with connection.wrap_database_errors, connection.connection.pipeline():
        yield


def _part(group: Sequence[models.Model]) -> tuple[str, list[Any]]:
    statement, fields = _statement(type(group[0]))
    if len(group) < FEW:
        return statement, _stored(fields, group[0])
    table = group[0]._meta.db_table
    names = ", ".join(f'"{field.column}"' for field in fields)
    many = f'INSERT INTO "{table}" ({names}) SELECT {names} FROM json_populate_recordset'  # noqa: S608
    rows = [{one.column: one.pre_save(row, True) for one in fields} for row in group]
    return f'{many}(NULL::"{table}", %s::json)', [_dumps(rows).decode()]


@lru_cache(maxsize=64)
def _statement(model: type[models.Model]) -> tuple[str, list[Any]]:
    """Write the INSERT of one row, and list the fields that it fills."""
    fields = [one for one in model._meta.concrete_fields if not isinstance(one, models.AutoField)]
    names = ", ".join(f'"{field.column}"' for field in fields)
    places = ", ".join(["%s"] * len(fields))
    return f'INSERT INTO "{model._meta.db_table}" ({names}) VALUES ({places})', fields  # noqa: S608


def _stored(fields: list[Any], row: models.Model) -> list[Any]:
    return [_adapted(field, field.pre_save(row, True)) for field in fields]


def _adapted(field: Any, value: Any) -> Any:
    if isinstance(field, models.JSONField) and connection.vendor == "postgresql":
        return Jsonb(value, dumps=_dumps)
    return field.get_db_prep_save(value, connection)


def _dumps(value: Any) -> bytes:
    return orjson.dumps(value, default=str)
