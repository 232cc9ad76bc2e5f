from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('surveys', '0001_start'),
    ]

    operations = [
        migrations.AddField(
            model_name='reading',
            name='confirmed',
            field=models.BooleanField(default=False),
        ),
    ]
