"""Do the tables of facts refuse to be changed, on either database and after a table is rebuilt?"""

from typing import Any

import pytest
from django.core.management.sql import emit_post_migrate_signal
from django.db import DatabaseError, connection, transaction

from contractor.api.append_only import declared, ensure
from contractor.notices.models import Notice
from tests.clients import Caller
from tests.factories import fresh_uuid, survey_case

WITH_ROWS = [
    "kits_rulesheet",
    "notices_notice",
    "surveys_reading",
    "surveys_refused",
    "surveys_survey",
    "surveys_zone",
    "verdicts_verdict",
]
TABLES = [
    "claims_evidence",
    "claims_statement",
    "handovers_handover",
    "installs_mark",
    "installs_record",
    "installs_startedagain",
    "kits_rulesheet",
    "notices_notice",
    "receiving_delivery",
    "receiving_inspection",
    "stock_movement",
    "surveys_reading",
    "surveys_refused",
    "surveys_survey",
    "surveys_zone",
    "verdicts_depth",
    "verdicts_verdict",
]
TRIGGERS = {
    "sqlite": "SELECT tbl_name FROM sqlite_master WHERE type = 'trigger'",
    "postgresql": "SELECT tgrelid::regclass::text FROM pg_trigger WHERE NOT tgisinternal",
}
ON_SQLITE = pytest.mark.skipif(
    "connection.vendor != 'sqlite'", reason="only SQLite rebuilds tables and drops their triggers"
)


def execute(statement: str) -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


def refuses(statement: str) -> bool:
    try:
        execute(statement)
    except DatabaseError as error:
        return "only ever grow" in str(error)
    return False


def column_of(table: str) -> str:
    with connection.cursor() as cursor:
        return connection.introspection.get_primary_key_column(cursor, table) or ""


@pytest.fixture
def facts(tablet: Caller) -> None:
    """A row in each of the tables, and the triggers that the tests' own flush had to drop."""
    case = survey_case("fits")
    assert tablet.post("/api/v1/surveys/", case.body).status_code == 201
    other = {**case.body, "id": fresh_uuid()}
    assert tablet.post("/api/v1/surveys/", other).status_code == 409
    for table in declared():
        ensure(connection, table)


def test_the_tables_of_facts_are_declared() -> None:
    assert declared() == TABLES
    assert set(WITH_ROWS) <= set(TABLES)


@pytest.mark.parametrize("table", TABLES)
def test_each_of_them_is_guarded_in_the_database(db: None, table: str) -> None:
    ensure(connection, table)
    with connection.cursor() as cursor:
        cursor.execute(TRIGGERS[connection.vendor])
        guarded = [name for (name,) in cursor.fetchall()]
    assert guarded.count(table) == (2 if connection.vendor == "sqlite" else 1)


@pytest.mark.parametrize("table", WITH_ROWS)
def test_a_fact_is_neither_changed_nor_deleted(facts: None, table: str) -> None:
    column = column_of(table)
    assert refuses(f"UPDATE {table} SET {column} = {column}")  # noqa: S608
    assert refuses(f"DELETE FROM {table}")  # noqa: S608


def test_a_table_that_is_no_fact_may_change(facts: None) -> None:
    assert not refuses("UPDATE kits_kit SET name = 'Another'")
    assert not refuses("DELETE FROM api_idempotencykey")


@ON_SQLITE
@pytest.mark.django_db(transaction=True)
def test_the_guards_come_back_after_a_table_is_rebuilt() -> None:
    Notice.objects.create(type="crew.formed", noun="crew", about="heron", caller="x")
    with connection.schema_editor() as editor:
        rebuild: Any = editor
        rebuild._remake_table(Notice)
    statement = "UPDATE notices_notice SET reason = 'rewritten'"
    assert not refuses(statement), "a rebuilt table has lost its triggers, or this shows nothing"
    emit_post_migrate_signal(verbosity=0, interactive=False, db="default")
    assert refuses(statement)
