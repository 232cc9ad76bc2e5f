from django.db import migrations
from django.db.models import Max

from jobs.reminders.presets import PRESETS


def forward(apps, schema_editor):
    """Give the follow-ups planned so far to their rule, and let rules hear from here on."""
    using = schema_editor.connection.alias
    rule_model = apps.get_model("reminders", "Rule")
    known = {one.name for one in rule_model._meta.get_fields()}
    preset = next(one for one in PRESETS if one["slug"] == "follow_up")
    rule = rule_model.objects.using(using).create(
        **{name: value for name, value in preset.items() if name in known}
    )
    rows = apps.get_model("reminders", "Reminder").objects.using(using)
    for row in rows.select_related("booking__job__site"):
        row.rule, row.job = rule, row.booking.job
        row.about = f"B-{row.booking_id:04d}"
        row.occasion = row.booking.ends_at.isoformat()
        row.time_zone = row.booking.job.site.time_zone
        row.channel = "email"
        if row.state == "waiting":
            row.state = "due"
        row.save()
    last = apps.get_model("notices", "Notice").objects.using(using).aggregate(last=Max("pk"))["last"]
    apps.get_model("reminders", "Heard").objects.using(using).create(
        name="rules", position=last or 0
    )


class Migration(migrations.Migration):

    dependencies = [
        ("reminders", "0002_rules_as_data"),
        ("notices", "0002_feed_order"),
        ("jobs", "0001_start"),
        ("customers", "0001_start"),
    ]

    operations = [migrations.RunPython(forward, migrations.RunPython.noop)]
