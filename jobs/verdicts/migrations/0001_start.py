import django.db.models.deletion
import jobs.verdicts.models
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('kits', '0001_start'),
        ('openings', '0001_start'),
        ('surveys', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Verdict',
            fields=[
                ('id', models.UUIDField(default=jobs.verdicts.models.verdict_id, editable=False, primary_key=True, serialize=False)),
                ('state', models.CharField(choices=[('fits', 'Fits'), ('tight', 'Tight: inside the guard band'), ('fails', 'Fails'), ('unknown', 'Unknown: a reading is missing or in dispute')], max_length=10)),
                ('rules_version', models.CharField(max_length=10)),
                ('inputs', models.JSONField()),
                ('inputs_digest', models.CharField(max_length=71)),
                ('result', models.JSONField()),
                ('given_by', models.CharField(max_length=120)),
                ('given_at', models.DateTimeField(auto_now_add=True)),
                ('opening', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='verdicts', to='openings.opening')),
                ('sheet', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='verdicts', to='kits.rulesheet')),
                ('survey', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='verdicts', to='surveys.survey')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
    ]
