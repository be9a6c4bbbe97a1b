"""What a driver typed moves out of the rows that are never changed, to where it can be erased.

A thousand rows a commit, each under the lock that holds the guard off for so long; cut off, it goes
on where it was. There is no way back.
"""

from django.db import connection, migrations, transaction

TYPED = """
WITH old AS (
  SELECT uid, recorded_at, told ->> named.key AS typed, named.key FROM runs_happening,
    (VALUES ('skipped', 'note'), ('added', 'why')) AS named (kind, key)
  WHERE runs_happening.kind = named.kind AND told ? named.key ORDER BY uid LIMIT 1000
), kept AS (
  INSERT INTO people_words (uid, kind, text, said_at)
  SELECT uid, 'road', typed, recorded_at FROM old WHERE typed <> '' ON CONFLICT DO NOTHING
)
UPDATE runs_happening h
SET told = h.told - old.key || CASE typed WHEN '' THEN '{}' ELSE '{"worded": true}' END::jsonb
FROM old WHERE h.uid = old.uid
"""


def move(apps, schema_editor):
    with connection.cursor() as c:
        moved = 1
        while moved:
            with transaction.atomic():
                guard = "runs_happening_append_only"
                c.execute(f"ALTER TABLE runs_happening DISABLE TRIGGER {guard}")
                c.execute(TYPED)
                moved = c.rowcount
                c.execute(f"ALTER TABLE runs_happening ENABLE TRIGGER {guard}")


class Migration(migrations.Migration):
    atomic = False
    dependencies = [("runs", "0003_happenings"), ("people", "0006_words")]
    operations = [migrations.RunPython(move)]
