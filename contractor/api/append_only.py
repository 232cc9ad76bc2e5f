"""Which tables only ever grow? Triggers on both databases refuse to change or delete their rows.

SQLite drops a table's triggers when a migration rebuilds it, so they are put back after every
migrate rather than made once in a migration.
"""

from typing import Any

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models.signals import post_migrate

_tables: dict[str, list[str]] = {}

POSTGRES = """
CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'rows of % only ever grow', TG_TABLE_NAME USING ERRCODE = '23000'; END $$;
DROP TRIGGER IF EXISTS {table}_only_grows ON {table};
CREATE TRIGGER {table}_only_grows BEFORE UPDATE OR DELETE ON {table}
FOR EACH ROW EXECUTE FUNCTION refuse_change();
"""
SQLITE = """
CREATE TRIGGER IF NOT EXISTS {table}_no_{event} BEFORE {event} ON {table}
BEGIN SELECT RAISE(ABORT, 'rows of {table} only ever grow'); END;
"""


def only_grows(app_label: str, *tables: str) -> None:
    """Declare tables of one room append-only; call it in the room's `ready`."""
    _tables[app_label] = list(tables)
    post_migrate.connect(_after_migrate, dispatch_uid="only grows")


def _after_migrate(app_config: Any, using: str = DEFAULT_DB_ALIAS, **_: Any) -> None:
    if app_config.label not in _tables:
        return
    connection = connections[using]
    present = set(connection.introspection.table_names())
    for table in _tables[app_config.label]:
        if table in present:
            ensure(connection, table)


def ensure(connection: Any, table: str) -> None:
    """Put the triggers of one table in place."""
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(POSTGRES.format(table=table))
        else:
            for event in ("update", "delete"):
                cursor.execute(SQLITE.format(table=table, event=event))


def declared() -> list[str]:
    """List every append-only table."""
    return sorted(table for tables in _tables.values() for table in tables)
