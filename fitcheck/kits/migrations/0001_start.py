import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='Kit',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('slug', models.SlugField(unique=True)),
                ('name', models.CharField(max_length=120)),
                ('maker', models.CharField(max_length=120)),
                ('invented', models.BooleanField(default=False)),
                ('version', models.PositiveIntegerField(default=1)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='RuleSheet',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('number', models.PositiveIntegerField()),
                ('body', models.JSONField()),
                ('digest', models.CharField(max_length=71)),
                ('published_at', models.DateTimeField(auto_now_add=True)),
                ('published_by', models.CharField(max_length=120)),
                ('kit', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='sheets', to='kits.kit')),
            ],
            options={
                'ordering': ['pk'],
                'constraints': [models.UniqueConstraint(fields=('kit', 'number'), name='sheet_number_once_per_kit')],
            },
        ),
    ]
