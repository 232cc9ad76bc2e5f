"""Compress the long texts of a verdict lightly where PostgreSQL can: the usual way costs more than writing them."""

from django.db import migrations

COLUMNS = (("verdicts_verdict", "result"), ("verdicts_verdict", "inputs"), ("verdicts_depth", "result"))
SET = """
DO $$ BEGIN
    ALTER TABLE {table} ALTER COLUMN {column} SET COMPRESSION lz4;
EXCEPTION WHEN feature_not_supported OR invalid_parameter_value THEN
    NULL; -- this server was built without it and goes on as before
END $$"""


def lighten(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        for table, column in COLUMNS:
            schema_editor.execute(SET.format(table=table, column=column))


class Migration(migrations.Migration):
    dependencies = [("verdicts", "0003_depth_beside")]

    operations = [migrations.RunPython(lighten, migrations.RunPython.noop)]
