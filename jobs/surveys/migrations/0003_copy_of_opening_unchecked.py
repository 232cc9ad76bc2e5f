import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('openings', '0001_start'),
        ('surveys', '0002_confirmed'),
    ]

    operations = [
        migrations.AlterField(
            model_name='reading',
            name='opening',
            field=models.ForeignKey(db_constraint=False, on_delete=django.db.models.deletion.PROTECT, related_name='readings', to='openings.opening'),
        ),
        migrations.AlterField(
            model_name='zone',
            name='opening',
            field=models.ForeignKey(db_constraint=False, on_delete=django.db.models.deletion.PROTECT, related_name='zones', to='openings.opening'),
        ),
    ]
