import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('bookings', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Reminder',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(default='follow_up', max_length=20)),
                ('due_at', models.DateTimeField()),
                ('to', models.EmailField(max_length=254)),
                ('subject', models.CharField(max_length=200)),
                ('text', models.TextField()),
                ('message_id', models.CharField(max_length=120, unique=True)),
                ('state', models.CharField(choices=[('waiting', 'Waiting for its time'), ('sending', 'A worker has it'), ('sent', 'Sent'), ('failed', 'Given up after three tries'), ('cancelled', 'No longer wanted')], default='waiting', max_length=10)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('lease_until', models.DateTimeField(blank=True, null=True)),
                ('sent_at', models.DateTimeField(blank=True, null=True)),
                ('trouble', models.CharField(blank=True, max_length=300)),
                ('booking', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='reminders', to='bookings.booking')),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['state', 'due_at'], name='reminder_due')],
                'constraints': [models.UniqueConstraint(fields=('booking', 'kind'), name='one_reminder_of_a_kind')],
            },
        ),
    ]
