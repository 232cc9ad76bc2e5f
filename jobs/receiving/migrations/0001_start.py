import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        ('jobs', '0002_life'),
        ('kits', '0001_start'),
        ('openings', '0002_dropped'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Delivery',
            fields=[
                ('id', models.UUIDField(primary_key=True, serialize=False)),
                ('carrier', models.CharField(max_length=120)),
                ('waybill', models.CharField(blank=True, max_length=60)),
                ('arrived_at', models.DateTimeField()),
                ('packaging', models.CharField(choices=[('sound', 'Sound'), ('damaged', 'Crushed, torn or broken'), ('wet', 'Wet'), ('none', 'None')], max_length=10)),
                ('noted_at_door', models.BooleanField(default=False)),
                ('notes', models.TextField(blank=True)),
                ('caller', models.CharField(max_length=40)),
                ('digest', models.CharField(max_length=64)),
                ('received_at', models.DateTimeField(auto_now_add=True)),
                ('received_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'verbose_name_plural': 'deliveries',
                'ordering': ['received_at', 'id'],
            },
        ),
        migrations.CreateModel(
            name='Line',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('what', models.CharField(choices=[('panel', 'Panel'), ('part', 'Part')], max_length=10)),
                ('name', models.CharField(max_length=120)),
                ('size', models.CharField(blank=True, max_length=120)),
                ('mass', models.CharField(blank=True, max_length=20)),
                ('count', models.PositiveSmallIntegerField(default=1)),
                ('opening', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='goods', to='openings.opening')),
                ('remakes', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='remade_by', to='receiving.line')),
                ('sheet', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='kits.rulesheet')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Inspection',
            fields=[
                ('id', models.UUIDField(primary_key=True, serialize=False)),
                ('condition', models.CharField(choices=[('sound', 'Sound'), ('damaged', 'Damaged'), ('short', 'Short: not in the box'), ('wrong', 'Wrong: another piece, size or handing')], max_length=10)),
                ('count', models.PositiveSmallIntegerField()),
                ('photos', models.JSONField(default=list)),
                ('note', models.CharField(blank=True, max_length=500)),
                ('inspected_by', models.CharField(max_length=120)),
                ('inspected_at', models.DateTimeField()),
                ('replaces', models.JSONField(default=list)),
                ('caller', models.CharField(max_length=40)),
                ('digest', models.CharField(max_length=64)),
                ('received_at', models.DateTimeField(auto_now_add=True)),
                ('delivery', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='inspections', to='receiving.delivery')),
                ('line', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='inspections', to='receiving.line')),
            ],
            options={
                'ordering': ['received_at', 'id'],
            },
        ),
        migrations.CreateModel(
            name='Order',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('kit', 'Boxed kit'), ('glass', 'Cut-to-size glass'), ('piece', 'Single pieces, as after damage'), ('own', 'Bought by the customer')], max_length=10)),
                ('supplier', models.CharField(blank=True, max_length=120)),
                ('reference', models.CharField(blank=True, max_length=60)),
                ('expected_on', models.DateField(blank=True, null=True)),
                ('state', models.CharField(choices=[('placed', 'Placed'), ('cancelled', 'Cancelled')], default='placed', max_length=10)),
                ('cancelled_why', models.CharField(blank=True, max_length=300)),
                ('notes', models.TextField(blank=True, max_length=4000)),
                ('ordered_at', models.DateTimeField(auto_now_add=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='orders', to='jobs.job')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.AddField(
            model_name='line',
            name='order',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='lines', to='receiving.order'),
        ),
        migrations.AddField(
            model_name='delivery',
            name='order',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='deliveries', to='receiving.order'),
        ),
    ]
