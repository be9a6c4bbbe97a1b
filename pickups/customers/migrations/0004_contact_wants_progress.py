from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('customers', '0003_link'),
    ]

    operations = [
        migrations.AddField(
            model_name='contact',
            name='wants_progress',
            field=models.BooleanField(default=True),
        ),
    ]
