import django.db.models.deletion
import jobs.packets.models
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('bookings', '0001_start'),
        ('jobs', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Packet',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('paper', models.CharField(choices=[('a4', 'A4'), ('letter', 'Letter')], default='letter', max_length=10)),
                ('code', models.CharField(default=jobs.packets.models.short_code, max_length=9, unique=True)),
                ('data', models.JSONField(default=dict)),
                ('digest', models.CharField(blank=True, max_length=71)),
                ('state', models.CharField(choices=[('wanted', 'Waiting for a worker'), ('rendering', 'A worker sets it'), ('done', 'Ready'), ('failed', 'Given up; the reason is told')], default='wanted', max_length=10)),
                ('percent', models.PositiveSmallIntegerField(default=0)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('lease_until', models.DateTimeField(blank=True, null=True)),
                ('trouble', models.CharField(blank=True, max_length=500)),
                ('file', models.FileField(blank=True, upload_to='packets/%Y/%m')),
                ('file_digest', models.CharField(blank=True, max_length=71)),
                ('asked_by', models.CharField(max_length=120)),
                ('asked_at', models.DateTimeField(auto_now_add=True)),
                ('done_at', models.DateTimeField(blank=True, null=True)),
                ('superseded_why', models.CharField(blank=True, max_length=200)),
                ('version', models.PositiveIntegerField(default=1)),
                ('booking', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='packets', to='bookings.booking')),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='packets', to='jobs.job')),
                ('superseded_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='packets.packet')),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['state', 'lease_until'], name='packet_wanted')],
            },
        ),
    ]
