from django.db import migrations, models

STAMPS = """
UPDATE inspection_station_event
SET stamp = floor(extract(epoch FROM happened_at) * 1000),
    about = (body ->> 'releases')::uuid
"""


class Migration(migrations.Migration):
    """Events get the stamp that they are ordered by; those that were told before, their moment."""

    dependencies = [
        ("inspection", "0003_parts_and_work"),
    ]

    operations = [
        migrations.AddField(
            model_name="stationevent",
            name="about",
            field=models.UUIDField(null=True),
        ),
        migrations.AddField(
            model_name="stationevent",
            name="stamp",
            field=models.BigIntegerField(default=0),
            preserve_default=False,
        ),
        migrations.RunSQL(STAMPS, migrations.RunSQL.noop),
        migrations.AddField(
            model_name="work",
            name="doubts",
            field=models.JSONField(default=dict),
        ),
    ]
