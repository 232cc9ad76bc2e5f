import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('jobs', '0001_start'),
        ('kits', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Opening',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(help_text='Which bathroom, for example `upstairs`.', max_length=120)),
                ('enclosure', models.CharField(choices=[('alcove', 'Alcove, between two walls'), ('corner', 'Corner with a return panel'), ('angled', 'Angled'), ('fixed_screen', 'Fixed screen')], max_length=20)),
                ('stands_on', models.CharField(choices=[('curb', 'Curb of a shower base'), ('tub_deck', 'Deck of a tub')], max_length=10)),
                ('shower_head_side', models.CharField(choices=[('left', 'Left'), ('right', 'Right'), ('unknown', 'Not seen yet')], default='unknown', max_length=10)),
                ('notes', models.TextField(blank=True, max_length=4000)),
                ('version', models.PositiveIntegerField(default=1)),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='openings', to='jobs.job')),
                ('kit', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='openings', to='kits.kit')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
    ]
