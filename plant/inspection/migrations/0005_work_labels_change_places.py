from django.db import migrations, models


class Migration(migrations.Migration):
    """What is named by another event is found; a label may change places within a transaction."""

    dependencies = [
        ("inspection", "0004_stamp_and_doubts"),
    ]

    operations = [
        migrations.AddIndex(
            model_name="stationevent",
            index=models.Index(
                condition=models.Q(("about", None), _negated=True),
                fields=["about"],
                name="station_event_about",
            ),
        ),
        migrations.RemoveConstraint(
            model_name="work",
            name="inspection_work_label_once",
        ),
        migrations.AddConstraint(
            model_name="work",
            constraint=models.UniqueConstraint(
                deferrable=models.Deferrable.DEFERRED,
                fields=("plant", "label"),
                name="inspection_work_label_once",
            ),
        ),
    ]
