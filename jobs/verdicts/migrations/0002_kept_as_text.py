"""What the rules said is kept as its text: quicker to write, and word for word when read again."""

from django.db import migrations

import contractor.api.written

LZ4 = "SELECT 'lz4' = ANY(enumvals) FROM pg_settings WHERE name = 'default_toast_compression'"


def compress(apps, editor):
    """Choose the quicker compression where this PostgreSQL was built with it."""
    if editor.connection.vendor != "postgresql":
        return
    with editor.connection.cursor() as cursor:
        cursor.execute(LZ4)
        if (cursor.fetchone() or (False,))[0]:
            cursor.execute("ALTER TABLE verdicts_verdict ALTER COLUMN result SET COMPRESSION lz4")


class Migration(migrations.Migration):
    dependencies = [("verdicts", "0001_start")]
    operations = [
        migrations.AlterField("verdict", "result", contractor.api.written.WrittenField()),
        migrations.RunPython(compress, migrations.RunPython.noop),
    ]
