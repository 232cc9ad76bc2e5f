from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0001_start'),
    ]

    operations = [
        migrations.AddField(
            model_name='job',
            name='state',
            field=models.CharField(choices=[('enquiry', 'Asked for, to be measured'), ('surveyed', 'Measured'), ('decided', 'Kit decided'), ('ordered', 'Goods ordered'), ('received', 'Goods received and inspected'), ('booked', 'Install booked'), ('installed', 'Installed, curing'), ('cured', 'Cured'), ('handed_over', 'Handed over'), ('followed_up', 'Followed up'), ('closed', 'Closed'), ('cancelled', 'Cancelled')], default='enquiry', max_length=12),
        ),
        migrations.AddField(
            model_name='job',
            name='survey_again_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
    ]
