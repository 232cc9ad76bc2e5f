import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='Customer',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=200)),
                ('email', models.EmailField(blank=True, max_length=254)),
                ('phone', models.CharField(blank=True, max_length=20)),
                ('notes', models.TextField(blank=True, max_length=4000)),
                ('version', models.PositiveIntegerField(default=1)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Site',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('street_address', models.CharField(max_length=200)),
                ('extended_address', models.CharField(blank=True, max_length=200)),
                ('address_locality', models.CharField(max_length=120)),
                ('address_region', models.CharField(blank=True, max_length=60)),
                ('postal_code', models.CharField(blank=True, max_length=20)),
                ('address_country', models.CharField(default='US', max_length=2)),
                ('time_zone', models.CharField(max_length=60)),
                ('access_notes', models.TextField(blank=True, max_length=4000)),
                ('year_built', models.PositiveSmallIntegerField(blank=True, null=True)),
                ('door_width', models.CharField(blank=True, max_length=40)),
                ('door_height', models.CharField(blank=True, max_length=40)),
                ('corridor_width', models.CharField(blank=True, max_length=40)),
                ('stair_width', models.CharField(blank=True, max_length=40)),
                ('lift_width', models.CharField(blank=True, max_length=40)),
                ('lift_depth', models.CharField(blank=True, max_length=40)),
                ('lift_height', models.CharField(blank=True, max_length=40)),
                ('version', models.PositiveIntegerField(default=1)),
                ('customer', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='sites', to='customers.customer')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
    ]
