from django.db import migrations, models

BEFORE = ["booking.cancelled", "booking.no_show", "claim.opened", "job.cancelled"]
AFTER = ["booking.cancelled", "booking.no_show", "job.cancelled", "job.followed_up", "job.closed"]


def forward(apps, schema_editor):
    """Let a claim no longer stop the follow-up, where the office has not said otherwise."""
    using = schema_editor.connection.alias
    rows = apps.get_model("reminders", "Rule").objects.using(using).filter(slug="follow_up")
    for row in rows:
        if row.unless == BEFORE:
            row.unless, row.version = AFTER, row.version + 1
            row.save()


class Migration(migrations.Migration):

    dependencies = [
        ('reminders', '0004_one_of_an_occasion'),
    ]

    operations = [
        migrations.AlterField(
            model_name='rule',
            name='counts_from',
            field=models.CharField(choices=[('notice', 'The moment it happened'), ('visit_start', 'The start of the visit'), ('visit_end', 'The end of the visit'), ('cure_end', 'The end of the cure'), ('claim_deadline', 'The nearest deadline of the claim'), ('goods_promised', 'The day for which the goods are promised'), ('cost_missing', 'The day of an error whose cost nobody has written'), ('outdated', 'The moment when readings outran their verdict'), ('each_morning', "Every morning, by the firm's clock")], default='notice', max_length=20),
        ),
        migrations.RunPython(forward, migrations.RunPython.noop),
    ]
