import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('notices', '0002_feed_order'),
    ]

    operations = [
        migrations.CreateModel(
            name='Endpoint',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60)),
                ('address', models.URLField(max_length=500)),
                ('types', models.JSONField(blank=True, default=list)),
                ('secret', models.CharField(max_length=80)),
                ('position', models.BigIntegerField(default=0)),
                ('is_on', models.BooleanField(default=True)),
                ('off_why', models.CharField(blank=True, max_length=300)),
                ('version', models.PositiveIntegerField(default=1)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Delivery',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('state', models.CharField(choices=[('waiting', 'Waits for its next try'), ('sending', 'A worker sends it'), ('done', 'Taken'), ('failed', 'Given up; the reason is told')], default='waiting', max_length=10)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('next_try', models.DateTimeField()),
                ('lease_until', models.DateTimeField(blank=True, null=True)),
                ('status_code', models.PositiveSmallIntegerField(blank=True, null=True)),
                ('trouble', models.CharField(blank=True, max_length=300)),
                ('done_at', models.DateTimeField(blank=True, null=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('notice', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='deliveries', to='notices.notice')),
                ('endpoint', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='deliveries', to='notices.endpoint')),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['state', 'next_try'], name='delivery_due')],
                'constraints': [models.UniqueConstraint(fields=('endpoint', 'notice'), name='notice_once_an_endpoint')],
            },
        ),
    ]
