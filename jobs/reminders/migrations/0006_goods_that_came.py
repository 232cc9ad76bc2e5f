from django.db import migrations

BEFORE = ["order.placed", "order.changed"]
AFTER = [*BEFORE, "goods.received", "goods.inspected"]


def forward(apps, schema_editor):
    """Let what came drop the message that it has not, where the office has not said otherwise."""
    using = schema_editor.connection.alias
    rows = apps.get_model("reminders", "Rule").objects.using(using).filter(slug="goods_not_here")
    for row in rows:
        if row.hears == BEFORE:
            row.hears, row.version = AFTER, row.version + 1
            row.save()


class Migration(migrations.Migration):

    dependencies = [
        ("reminders", "0005_costs_and_follow_ups"),
    ]

    operations = [migrations.RunPython(forward, migrations.RunPython.noop)]
