"""Over facts of years: made beside the writers, who never wait for it."""

from django.contrib.postgres.operations import AddIndexConcurrently
from django.db import migrations, models


class Migration(migrations.Migration):
    atomic = False
    dependencies = [("custody", "0019_words_apart")]
    operations = [
        AddIndexConcurrently(
            model_name="fact",
            index=models.Index(
                fields=["happened_at"],
                condition=models.Q(kind__in=["finished", "rejected"]),
                name="fact_decided",
            ),
        )
    ]
