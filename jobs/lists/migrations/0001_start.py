from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='ListImport',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('customers', 'Customers'), ('sites', 'Sites'), ('kits', 'Kits and their rule sheets'), ('bookings', 'Bookings')], max_length=10)),
                ('name', models.CharField(max_length=120)),
                ('content', models.BinaryField()),
                ('digest', models.CharField(max_length=71)),
                ('mode', models.CharField(choices=[('all', 'All rows or none'), ('good', 'The good rows; the bad ones stay out')], default='all', max_length=5)),
                ('state', models.CharField(choices=[('wanted', 'Waits to be looked through'), ('checking', 'A worker looks it through'), ('checked', 'Looked through; nothing is written yet'), ('asked', 'Waits to be taken over'), ('taking', 'A worker takes it over'), ('done', 'Taken over'), ('failed', 'Given up; the reason is told')], default='wanted', max_length=10)),
                ('rows', models.PositiveIntegerField(default=0)),
                ('new', models.PositiveIntegerField(default=0)),
                ('changed', models.PositiveIntegerField(default=0)),
                ('same', models.PositiveIntegerField(default=0)),
                ('bad', models.PositiveIntegerField(default=0)),
                ('problems', models.JSONField(default=list)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('lease_until', models.DateTimeField(blank=True, null=True)),
                ('trouble', models.CharField(blank=True, max_length=300)),
                ('caller_role', models.CharField(max_length=20)),
                ('caller_key', models.CharField(max_length=40)),
                ('asked_by', models.CharField(max_length=120)),
                ('asked_at', models.DateTimeField(auto_now_add=True)),
                ('done_at', models.DateTimeField(blank=True, null=True)),
                ('version', models.PositiveIntegerField(default=1)),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['state', 'lease_until'], name='list_wanted')],
            },
        ),
    ]
