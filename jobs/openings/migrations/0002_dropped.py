from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('openings', '0001_start'),
    ]

    operations = [
        migrations.AddField(
            model_name='opening',
            name='dropped_why',
            field=models.CharField(blank=True, max_length=300),
        ),
    ]
