from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('customers', '0002_site_place'),
    ]

    operations = [
        migrations.AddField(
            model_name='customer',
            name='language',
            field=models.CharField(choices=[('en', 'English'), ('es', 'Spanish')], default='en', max_length=2),
        ),
        migrations.AddField(
            model_name='customer',
            name='preferred_channel',
            field=models.CharField(choices=[('email', 'Mail'), ('text', 'Text message'), ('none', 'No messages')], default='email', max_length=10),
        ),
    ]
