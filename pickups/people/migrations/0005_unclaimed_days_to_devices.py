"""Devices that heard of the sites before the days of unclaimed casings stood with them hear again."""

from django.db import migrations


def tell_sites(apps, schema_editor):
    """Each site a version further, in its own row and in what devices are told; sites are few."""
    with schema_editor.connection.cursor() as c:
        c.execute("UPDATE people_site SET version = version + 1")
        c.execute(
            "UPDATE sync_feed AS f SET version = s.version FROM people_site s"
            " WHERE f.entity = 'site' AND f.uid = s.uid AND f.version < s.version"
        )


class Migration(migrations.Migration):
    dependencies = [("people", "0004_closing_since"), ("sync", "0002_feed_order")]
    operations = [migrations.RunPython(tell_sites, migrations.RunPython.noop)]
