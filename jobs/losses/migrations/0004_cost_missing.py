from django.db import migrations, models


def forward(apps, schema_editor):
    """What was opened at a hold point and never changed since stands at nothing: its cost is missing."""
    using = schema_editor.connection.alias
    rows = apps.get_model("losses", "Loss").objects.using(using)
    rows.filter(cost=0, version=1).exclude(record=None).update(cost_state="missing")


class Migration(migrations.Migration):

    dependencies = [
        ('losses', '0003_what_guards_refused'),
    ]

    operations = [
        migrations.AddField(
            model_name='loss',
            name='cost_state',
            field=models.CharField(choices=[('written', 'Written'), ('missing', 'Missing: nobody has written it yet')], default='written', max_length=10),
        ),
        migrations.RunPython(forward, migrations.RunPython.noop),
    ]
