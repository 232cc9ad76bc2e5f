import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('jobs', '0001_start'),
        ('people', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Booking',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('visit', models.CharField(choices=[('survey', 'Survey'), ('install', 'Install'), ('follow_up', 'Follow-up')], max_length=10)),
                ('starts_at', models.DateTimeField()),
                ('ends_at', models.DateTimeField()),
                ('state', models.CharField(choices=[('booked', 'Booked'), ('cancelled', 'Cancelled')], default='booked', max_length=10)),
                ('hands_needed', models.PositiveSmallIntegerField(default=1)),
                ('override_name', models.CharField(blank=True, max_length=120)),
                ('override_reason', models.CharField(blank=True, max_length=300)),
                ('overridden', models.JSONField(default=list)),
                ('notes', models.TextField(blank=True, max_length=4000)),
                ('cancelled_why', models.CharField(blank=True, max_length=300)),
                ('version', models.PositiveIntegerField(default=1)),
                ('crew', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='bookings', to='people.crew')),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='bookings', to='jobs.job')),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['crew', 'starts_at'], name='booking_of_crew')],
                'constraints': [models.CheckConstraint(condition=models.Q(('ends_at__gt', models.F('starts_at'))), name='booking_ends_after_start')],
            },
        ),
    ]
