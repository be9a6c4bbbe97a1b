"""Over facts of years: made beside the writers, who never wait for it."""

from django.contrib.postgres.operations import AddIndexConcurrently
from django.db import migrations, models
from django.db.models.fields.json import KeyTextTransform


class Migration(migrations.Migration):
    atomic = False
    dependencies = [("custody", "0016_disputes")]
    operations = [
        AddIndexConcurrently(
            model_name="fact",
            index=models.Index(
                KeyTextTransform("visit", "told"),
                condition=models.Q(kind="emptied"),
                name="fact_emptied",
            ),
        )
    ]
