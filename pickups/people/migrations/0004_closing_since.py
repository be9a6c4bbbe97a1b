"""Devices that were closed before the day was kept may send for as long as others, from now on."""

from django.db import migrations


def begin(apps, schema_editor):
    """From today on: when each was closed nobody knows."""
    with schema_editor.connection.cursor() as c:
        c.execute(
            "UPDATE people_device SET closed_at = now()"
            " WHERE status = 'closing' AND closed_at IS NULL"
        )


class Migration(migrations.Migration):
    dependencies = [("people", "0003_device_closing")]
    operations = [migrations.RunPython(begin, migrations.RunPython.noop)]
