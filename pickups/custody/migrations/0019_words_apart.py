"""What was said in a step moves out of the rows that are never changed, to where it can be erased.

A thousand rows a commit, each under the lock that holds its guard off for so long; cut off, it goes
on where it was. There is no way back: a row that is never changed is no place for a name.
"""

from django.db import connection, migrations, transaction

DISPUTES = """
WITH old AS (
  SELECT id, at, said, COALESCE(words, gen_random_uuid()) AS words FROM custody_dispute_step
  WHERE said <> '' ORDER BY id LIMIT 1000
), kept AS (
  INSERT INTO people_words (uid, kind, text, said_at)
  SELECT words, 'dispute', said, at FROM old ON CONFLICT DO NOTHING
)
UPDATE custody_dispute_step s SET said = '', words = old.words FROM old WHERE s.id = old.id
"""
REMINDERS = """
WITH old AS (
  SELECT uid, told ->> 'said' AS said, recorded_at FROM custody_fact
  WHERE kind = 'reminded' AND told ? 'said' ORDER BY uid LIMIT 1000
), kept AS (
  INSERT INTO people_words (uid, kind, text, said_at)
  SELECT uid, 'reminder', said, recorded_at FROM old WHERE said <> '' ON CONFLICT DO NOTHING
)
UPDATE custody_fact f
SET told = f.told - 'said' || CASE said WHEN '' THEN '{}' ELSE '{"worded": true}' END::jsonb
FROM old WHERE f.uid = old.uid
"""
# What a work order shows of its steps names their words; it is no ledger and has no guard.
SHOWN = """
WITH old AS (
  SELECT uid FROM casings_work_order
  WHERE jsonb_path_exists(told, '$.reminders[*].said') ORDER BY uid LIMIT 1000
)
UPDATE casings_work_order w SET told = jsonb_set(told, '{reminders}', (
  SELECT jsonb_agg(CASE WHEN NOT step ? 'said' THEN step ELSE
      jsonb_strip_nulls((step - 'said') || jsonb_build_object('words', (
        SELECT f.uid FROM custody_fact f JOIN people_words p ON p.uid = f.uid
        WHERE f.work_order = w.uid AND f.kind = 'reminded' AND p.text = step ->> 'said'
          AND f.told ->> 'at' = step ->> 'at' AND f.told ->> 'step' = step ->> 'step' LIMIT 1)))
    END ORDER BY n)
  FROM jsonb_array_elements(w.told -> 'reminders') WITH ORDINALITY AS every (step, n)))
FROM old WHERE w.uid = old.uid
"""
# The end of a case was noted with its question too.
QUESTIONS = """
UPDATE questions_question q SET settlement = '' FROM custody_dispute_step s
WHERE q.kind = 'disputed' AND s.kind = 'settled' AND s.said <> '' AND q.settlement = s.said
"""


def move(apps, schema_editor):
    with connection.cursor() as c:
        c.execute(QUESTIONS)
        for statement, table, guard in (
            (DISPUTES, "custody_dispute_step", "custody_dispute_step_append_only"),
            (REMINDERS, "custody_fact", "custody_fact_append_only"),
            (SHOWN, "", ""),
        ):
            moved = 1
            while moved:
                with transaction.atomic():
                    if table:
                        c.execute(f"ALTER TABLE {table} DISABLE TRIGGER {guard}")
                    c.execute(statement)
                    moved = c.rowcount
                    if table:
                        c.execute(f"ALTER TABLE {table} ENABLE TRIGGER {guard}")


class Migration(migrations.Migration):
    atomic = False
    dependencies = [
        ("custody", "0018_words_of_steps"),
        ("people", "0006_words"),
        ("casings", "0003_owned"),
        ("questions", "0001_initial"),
    ]
    operations = [
        migrations.RunPython(move),
        migrations.RemoveField(model_name="disputestep", name="said"),
    ]
