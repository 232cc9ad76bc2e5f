import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('claims', '0001_start'),
        ('jobs', '0003_states'),
        ('kits', '0001_start'),
        ('openings', '0002_dropped'),
        ('people', '0002_places_and_times'),
    ]

    operations = [
        migrations.CreateModel(
            name='Loss',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('remake', 'Remake: a piece ordered anew'), ('miscut', 'Miscut'), ('call_back', 'Call-back'), ('other', 'Other')], max_length=10)),
                ('cause', models.CharField(choices=[('misfit_booked', 'Booked for an opening that the kit cannot fit'), ('one_width', 'One width taken, rail cut to it'), ('misread', 'Reading taken or written wrongly'), ('stud_missed', 'Bracket missed the stud'), ('tile_cracked', 'Tile cracked or anchor spun'), ('pipe_hit', 'Screw into a pipe or cable'), ('cut_wrong', 'Rail or threshold cut wrong'), ('transit', 'Chipped or broken in transit'), ('handling', 'Dropped or knocked while carried or hung'), ('way_in', 'Panel did not get in'), ('handing', 'Holes or handle on the wrong side'), ('jumped_rail', 'Door jumped the rail, metal on glass'), ('cure', 'Used before the sealant cured; leak'), ('old_paper', "Worked from last week's paper"), ('not_told', 'Customer was not told how to live with it'), ('claim_late', 'Claim deadline missed'), ('customer_changed', 'Customer changed the order'), ('maker', "Maker's fault"), ('other', 'Other')], max_length=20)),
                ('says', models.CharField(max_length=300)),
                ('happened_on', models.DateField()),
                ('cost', models.DecimalField(decimal_places=2, max_digits=12)),
                ('currency', models.CharField(max_length=3)),
                ('recorded_at', models.DateTimeField(auto_now_add=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('claim', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='losses', to='claims.claim')),
                ('crew', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='losses', to='people.crew')),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='losses', to='jobs.job')),
                ('kit', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='losses', to='kits.kit')),
                ('opening', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='losses', to='openings.opening')),
            ],
            options={
                'verbose_name_plural': 'losses',
                'ordering': ['pk'],
            },
        ),
    ]
