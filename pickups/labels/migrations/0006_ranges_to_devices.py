"""Devices hear of the ranges begun before ranges were told to them, as printing tells them now."""

from django.db import migrations, transaction

AT_ONCE = 1000
"""Rows a commit."""


def tell_ranges(apps, schema_editor):
    """One row for each store and plant; what was told since stays, and again changes nothing."""
    begun = apps.get_model("labels", "Roll").objects.values("range").distinct().count()
    void = apps.get_model("labels", "VoidLabel").objects.count()
    if begun == 0:
        return
    sites = list(apps.get_model("people", "Site").objects.order_by("uid").values_list("uid", flat=True))
    for at in range(0, len(sites), AT_ONCE):
        with transaction.atomic(), schema_editor.connection.cursor() as c:
            c.execute(
                "INSERT INTO sync_feed AS f (scope, entity, uid, version, gone)"
                " SELECT 'site:' || uid, 'label_range', uid, %s, false FROM unnest(%s::uuid[]) uid"
                " ON CONFLICT (scope, entity, uid) DO UPDATE SET version = EXCLUDED.version"
                " WHERE f.version < EXCLUDED.version",
                [begun + void, sites[at : at + AT_ONCE]],
            )


class Migration(migrations.Migration):
    atomic = False
    dependencies = [("labels", "0005_allocation"), ("people", "0001_initial"), ("sync", "0002_feed_order")]
    operations = [migrations.RunPython(tell_ranges, migrations.RunPython.noop)]
