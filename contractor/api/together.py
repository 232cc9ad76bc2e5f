"""How does one write ask and tell the database everything at once? In one round trip on PostgreSQL."""

import json
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from django.db import connection, models

FEW = 2
Query = tuple[str, list[Any]]


def select_together(*queries: Query) -> list[list[tuple[Any, ...]]]:
    """Ask several questions in the order given; each sees what the ones before it waited for.

    Returns:
        The rows of each, as the database gives them, without the models' conversions.
    """
    with connection.cursor() as cursor:
        if connection.vendor != "postgresql":
            return [cursor.execute(text, values).fetchall() for text, values in queries]
        cursor.execute(
            ";\n".join(text for text, _ in queries),
            [one for _, values in queries for one in values],
        )
        found = [cursor.fetchall()]
        while cursor.nextset():
            found.append(cursor.fetchall())
        return found


def insert_together(*groups: Sequence[models.Model]) -> None:
    """Write new rows of several tables in the order given; call it inside a transaction.

    Writes every column but a key that the database gives out, which is not read back. Sends no
    signals. PostgreSQL takes all statements in one message, and many rows of one table as one JSON
    text; SQLite, where nothing travels, takes them table by table.

    Raises:
        IntegrityError: a row is there already, or a constraint refuses it; nothing is written.
    """
    filled = [group for group in groups if group]
    with connection.cursor() as cursor:
        if connection.vendor != "postgresql":
            for group in filled:
                statement, fields = _statement(type(group[0]))
                cursor.executemany(statement, [_stored(fields, row) for row in group])
        elif filled:
            parts = [_part(group) for group in filled]
            values = [value for _, part in parts for value in part]
            cursor.execute(";\n".join(statement for statement, _ in parts), values)


def _part(group: Sequence[models.Model]) -> tuple[str, list[Any]]:
    statement, fields = _statement(type(group[0]))
    if len(group) < FEW:
        return statement, _stored(fields, group[0])
    table = group[0]._meta.db_table
    names = ", ".join(f'"{field.column}"' for field in fields)
    many = f'INSERT INTO "{table}" ({names}) SELECT {names} FROM json_populate_recordset'  # noqa: S608
    rows = [{one.column: one.pre_save(row, True) for one in fields} for row in group]
    return f'{many}(NULL::"{table}", %s::json)', [json.dumps(rows, default=str)]


@lru_cache(maxsize=64)
def _statement(model: type[models.Model]) -> tuple[str, list[Any]]:
    """Write the INSERT of one row, and list the fields that it fills."""
    fields = [one for one in model._meta.concrete_fields if not isinstance(one, models.AutoField)]
    names = ", ".join(f'"{field.column}"' for field in fields)
    places = ", ".join(["%s"] * len(fields))
    return f'INSERT INTO "{model._meta.db_table}" ({names}) VALUES ({places})', fields  # noqa: S608


def _stored(fields: list[Any], row: models.Model) -> list[Any]:
    return [field.get_db_prep_save(field.pre_save(row, True), connection) for field in fields]
