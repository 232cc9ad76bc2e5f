import django.db.models.deletion
import jobs.surveys.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('openings', '0001_start'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Photo',
            fields=[
                ('digest', models.CharField(max_length=64, primary_key=True, serialize=False)),
                ('file', models.FileField(upload_to='photos/%Y/%m')),
                ('media_type', models.CharField(max_length=20)),
                ('width', models.PositiveIntegerField()),
                ('height', models.PositiveIntegerField()),
                ('caller', models.CharField(max_length=40)),
                ('received_at', models.DateTimeField(auto_now_add=True)),
            ],
            options={
                'ordering': ['received_at'],
            },
        ),
        migrations.CreateModel(
            name='Refused',
            fields=[
                ('id', models.UUIDField(default=jobs.surveys.models.refusal_id, editable=False, primary_key=True, serialize=False)),
                ('opening', models.CharField(max_length=20)),
                ('code', models.CharField(max_length=40)),
                ('body', models.JSONField()),
                ('caller', models.CharField(max_length=40)),
                ('caller_name', models.CharField(max_length=120)),
                ('at', models.DateTimeField(auto_now_add=True)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Survey',
            fields=[
                ('id', models.UUIDField(primary_key=True, serialize=False)),
                ('taken_at', models.DateTimeField()),
                ('received_at', models.DateTimeField(auto_now_add=True)),
                ('caller', models.CharField(max_length=40)),
                ('app', models.CharField(blank=True, max_length=60)),
                ('supersedes', models.UUIDField(blank=True, null=True)),
                ('obstructions', models.JSONField(default=list)),
                ('photos', models.JSONField(default=list)),
                ('notes', models.TextField(blank=True)),
                ('digest', models.CharField(max_length=64)),
                ('measured_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('opening', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='surveys', to='openings.opening')),
            ],
            options={
                'ordering': ['received_at', 'id'],
            },
        ),
        migrations.CreateModel(
            name='Reading',
            fields=[
                ('id', models.UUIDField(primary_key=True, serialize=False)),
                ('quantity', models.CharField(max_length=20)),
                ('side', models.CharField(max_length=5)),
                ('height', models.CharField(blank=True, max_length=80)),
                ('over', models.CharField(blank=True, max_length=80)),
                ('value', models.CharField(max_length=80)),
                ('value_nm', models.BigIntegerField()),
                ('tool', models.JSONField()),
                ('read_by', models.CharField(max_length=120)),
                ('taken_at', models.CharField(max_length=40)),
                ('replaces', models.JSONField(default=list)),
                ('note', models.CharField(blank=True, max_length=500)),
                ('opening', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='readings', to='openings.opening')),
                ('survey', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='readings', to='surveys.survey')),
            ],
            options={
                'ordering': ['survey_id', 'id'],
            },
        ),
        migrations.CreateModel(
            name='Zone',
            fields=[
                ('id', models.UUIDField(primary_key=True, serialize=False)),
                ('build_up', models.JSONField()),
                ('replaces', models.JSONField(default=list)),
                ('opening', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='zones', to='openings.opening')),
                ('survey', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='zones', to='surveys.survey')),
            ],
            options={
                'ordering': ['survey_id', 'id'],
            },
        ),
    ]
