import contractor.notices.models
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='Notice',
            fields=[
                ('id', models.BigAutoField(primary_key=True, serialize=False)),
                ('event', models.UUIDField(default=contractor.notices.models.event_id, editable=False)),
                ('type', models.CharField(max_length=60)),
                ('noun', models.CharField(max_length=30)),
                ('about', models.CharField(max_length=60)),
                ('version', models.PositiveIntegerField(default=1)),
                ('caller', models.CharField(max_length=40)),
                ('caller_name', models.CharField(max_length=120)),
                ('reason', models.CharField(blank=True, max_length=300)),
                ('changes', models.JSONField(default=dict)),
                ('at', models.DateTimeField(auto_now_add=True)),
            ],
            options={
                'indexes': [models.Index(fields=['noun', 'about', 'id'], name='notice_of_row')],
            },
        ),
    ]
