"""A step names what was said by an id."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("custody", "0017_trailers_emptied_index")]
    operations = [
        migrations.AddField(
            model_name="disputestep", name="words", field=models.UUIDField(null=True)
        ),
    ]
