import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('bookings', '0001_start'),
        ('jobs', '0001_start'),
        ('reminders', '0003_follow_ups_by_their_rule'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveField(
            model_name='reminder',
            name='kind',
        ),
        migrations.AlterField(
            model_name='reminder',
            name='about',
            field=models.CharField(max_length=60),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='occasion',
            field=models.CharField(max_length=60),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='planned_at',
            field=models.DateTimeField(auto_now_add=True),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='rule',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='reminders', to='reminders.rule'),
        ),
        migrations.AddConstraint(
            model_name='reminder',
            constraint=models.UniqueConstraint(fields=('rule', 'about', 'occasion'), name='one_reminder_of_an_occasion'),
        ),
    ]
