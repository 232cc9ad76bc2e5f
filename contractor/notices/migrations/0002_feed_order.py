"""PostgreSQL gives keys out before commit; the writer's transaction tells the feed what is settled."""

from django.db import migrations


def add(apps, editor):
    if editor.connection.vendor == "postgresql":
        editor.execute(
            "ALTER TABLE notices_notice ADD COLUMN txid xid8 NOT NULL DEFAULT pg_current_xact_id()"
        )


def drop(apps, editor):
    if editor.connection.vendor == "postgresql":
        editor.execute("ALTER TABLE notices_notice DROP COLUMN txid")


class Migration(migrations.Migration):
    dependencies = [("notices", "0001_start")]
    operations = [migrations.RunPython(add, drop)]
