import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('bookings', '0001_start'),
        ('jobs', '0001_start'),
        ('reminders', '0001_start'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='DigestWish',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('wants', models.BooleanField(default=True)),
            ],
        ),
        migrations.CreateModel(
            name='Heard',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=20, unique=True)),
                ('position', models.BigIntegerField(default=0)),
                ('trouble', models.CharField(blank=True, max_length=300)),
            ],
        ),
        migrations.CreateModel(
            name='Rule',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('slug', models.SlugField(unique=True)),
                ('name', models.CharField(max_length=120)),
                ('is_on', models.BooleanField(default=True)),
                ('hears', models.JSONField(blank=True, default=list)),
                ('visits', models.JSONField(blank=True, default=list)),
                ('counts_from', models.CharField(choices=[('notice', 'The moment it happened'), ('visit_start', 'The start of the visit'), ('visit_end', 'The end of the visit'), ('cure_end', 'The end of the cure'), ('claim_deadline', 'The nearest deadline of the claim'), ('goods_promised', 'The day for which the goods are promised'), ('outdated', 'The moment when readings outran their verdict'), ('each_morning', "Every morning, by the firm's clock")], default='notice', max_length=20)),
                ('offset_days', models.SmallIntegerField(default=0)),
                ('offset_hours', models.SmallIntegerField(default=0)),
                ('at', models.CharField(blank=True, max_length=5)),
                ('working_days', models.BooleanField(default=False)),
                ('at_night', models.BooleanField(default=False)),
                ('unless', models.JSONField(blank=True, default=list)),
                ('same', models.CharField(choices=[('about', 'The same row'), ('booking', 'The same visit'), ('job', 'The same job')], default='about', max_length=10)),
                ('whom', models.CharField(choices=[('customer', 'The customer'), ('office', "The office's mailbox"), ('crew_lead', "The lead of the visit's crew"), ('measurer', 'Who measured last'), ('each_office', 'Everybody in the office who wants it')], default='customer', max_length=12)),
                ('channel', models.CharField(choices=[('preferred', 'As the customer prefers'), ('email', 'Mail'), ('text', 'Text message'), ('log', "Only a line in the service's log")], default='preferred', max_length=10)),
                ('sense', models.CharField(choices=[('always', 'However late'), ('visit_start', 'Until the visit starts'), ('visit_end', 'Until the visit is over'), ('day_end', 'Until the end of its day')], default='always', max_length=12)),
                ('late_after_hours', models.PositiveSmallIntegerField(default=24)),
                ('subject', models.CharField(max_length=160)),
                ('text', models.TextField(max_length=4000)),
                ('subject_es', models.CharField(blank=True, max_length=160)),
                ('text_es', models.TextField(blank=True, max_length=4000)),
                ('version', models.PositiveIntegerField(default=1)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.RemoveConstraint(
            model_name='reminder',
            name='one_reminder_of_a_kind',
        ),
        migrations.AddField(
            model_name='reminder',
            name='about',
            field=models.CharField(default='', max_length=60),
        ),
        migrations.AddField(
            model_name='reminder',
            name='channel',
            field=models.CharField(choices=[('preferred', 'As the customer prefers'), ('email', 'Mail'), ('text', 'Text message'), ('log', "Only a line in the service's log")], default='email', max_length=10),
        ),
        migrations.AddField(
            model_name='reminder',
            name='handed_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='reminder',
            name='heard',
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name='reminder',
            name='job',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='reminders', to='jobs.job'),
        ),
        migrations.AddField(
            model_name='reminder',
            name='language',
            field=models.CharField(default='en', max_length=5),
        ),
        migrations.AddField(
            model_name='reminder',
            name='member',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='reminder',
            name='noun',
            field=models.CharField(default='booking', max_length=30),
        ),
        migrations.AddField(
            model_name='reminder',
            name='occasion',
            field=models.CharField(default='', max_length=60),
        ),
        migrations.AddField(
            model_name='reminder',
            name='planned_at',
            field=models.DateTimeField(default=django.utils.timezone.now),
        ),
        migrations.AddField(
            model_name='reminder',
            name='rule_version',
            field=models.PositiveIntegerField(default=1),
        ),
        migrations.AddField(
            model_name='reminder',
            name='sense_until',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='reminder',
            name='time_zone',
            field=models.CharField(default='UTC', max_length=60),
        ),
        migrations.AddField(
            model_name='reminder',
            name='version',
            field=models.PositiveIntegerField(default=1),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='booking',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='reminders', to='bookings.booking'),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='state',
            field=models.CharField(choices=[('due', 'Waits for its time'), ('snoozed', 'Put off'), ('sending', 'A worker has it'), ('sent', 'Sent'), ('late', 'Its time passed while nobody could send; somebody has to look'), ('failed', 'Given up; the reason is told'), ('cancelled', 'No longer wanted')], default='due', max_length=10),
        ),
        migrations.AlterField(
            model_name='reminder',
            name='to',
            field=models.CharField(max_length=254),
        ),
        migrations.AddField(
            model_name='digestwish',
            name='member',
            field=models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name='digest_wish', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='reminder',
            name='rule',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='reminders', to='reminders.rule'),
        ),
    ]
