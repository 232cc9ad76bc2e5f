import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('bookings', '0002_holds_and_no_shows'),
        ('customers', '0002_site_place'),
        ('jobs', '0003_states'),
        ('kits', '0001_start'),
        ('openings', '0002_dropped'),
        ('receiving', '0001_start'),
    ]

    operations = [
        migrations.CreateModel(
            name='Claim',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('damage', 'Damage, or goods short or wrong'), ('warranty', 'Warranty')], max_length=10)),
                ('against', models.CharField(choices=[('maker', 'Maker'), ('carrier', 'Carrier'), ('firm', 'The firm itself'), ('customer', 'Customer')], max_length=10)),
                ('party', models.CharField(blank=True, max_length=120)),
                ('summary', models.CharField(max_length=300)),
                ('found_on', models.DateField()),
                ('filed_on', models.DateField(blank=True, null=True)),
                ('refused_on', models.DateField(blank=True, null=True)),
                ('state', models.CharField(choices=[('open', 'Open: not told to the other side yet'), ('filed', 'Told to the other side'), ('refused', 'Refused by the other side'), ('settled', 'Settled'), ('withdrawn', 'Withdrawn')], default='open', max_length=10)),
                ('outcome', models.CharField(choices=[('none', 'Nothing yet'), ('replaced', 'Replaced'), ('repaired', 'Repaired'), ('paid', 'Paid'), ('part_paid', 'Paid in part'), ('nothing', 'Nothing was got')], default='none', max_length=10)),
                ('outcome_says', models.CharField(blank=True, max_length=300)),
                ('cost', models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ('currency', models.CharField(blank=True, max_length=3)),
                ('opened_at', models.DateTimeField(auto_now_add=True)),
                ('settled_at', models.DateTimeField(blank=True, null=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('delivery', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='claims', to='receiving.delivery')),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='claims', to='jobs.job')),
                ('opening', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='claims', to='openings.opening')),
                ('remake', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='claims', to='receiving.order')),
                ('sheet', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='kits.rulesheet')),
                ('visits', models.ManyToManyField(related_name='claims', to='bookings.booking')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Evidence',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('photo', models.CharField(blank=True, max_length=64)),
                ('taken_at', models.DateTimeField()),
                ('author', models.CharField(max_length=120)),
                ('note', models.CharField(blank=True, max_length=500)),
                ('caller', models.CharField(max_length=40)),
                ('received_at', models.DateTimeField(auto_now_add=True)),
                ('claim', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='evidence', to='claims.claim')),
            ],
            options={
                'verbose_name_plural': 'evidence',
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Statement',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('party', models.CharField(choices=[('maker', 'Maker'), ('carrier', 'Carrier'), ('firm', 'The firm itself'), ('customer', 'Customer')], max_length=10)),
                ('name', models.CharField(max_length=120)),
                ('text', models.TextField(max_length=4000)),
                ('said_at', models.DateTimeField()),
                ('caller', models.CharField(max_length=40)),
                ('received_at', models.DateTimeField(auto_now_add=True)),
                ('claim', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='statements', to='claims.claim')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Warranty',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('installed_on', models.DateField()),
                ('ends_on', models.DateField()),
                ('terms', models.CharField(blank=True, max_length=500)),
                ('source', models.JSONField()),
                ('noted_at', models.DateTimeField(auto_now_add=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('opening', models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name='warranty', to='openings.opening')),
                ('sheet', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='kits.rulesheet')),
                ('site', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='warranties', to='customers.site')),
            ],
            options={
                'verbose_name_plural': 'warranties',
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Deadline',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('clock', models.CharField(max_length=80)),
                ('who', models.CharField(max_length=20)),
                ('began_on', models.DateField()),
                ('ends_on', models.DateField()),
                ('do', models.CharField(max_length=300)),
                ('note', models.CharField(blank=True, max_length=400)),
                ('source', models.JSONField()),
                ('met_on', models.DateField(blank=True, null=True)),
                ('met_how', models.CharField(blank=True, max_length=300)),
                ('version', models.PositiveIntegerField(default=1)),
                ('claim', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='deadlines', to='claims.claim')),
            ],
            options={
                'ordering': ['ends_on', 'pk'],
                'constraints': [models.UniqueConstraint(fields=('claim', 'clock'), name='clock_once_per_claim')],
            },
        ),
    ]
