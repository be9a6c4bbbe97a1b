"""The database itself refuses to change or delete a journal entry."""

from django.db import migrations

FORWARD = """
CREATE FUNCTION journal_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a journal entry is never changed' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER journal_append_only BEFORE UPDATE OR DELETE ON journal_entry
  FOR EACH ROW EXECUTE FUNCTION journal_is_for_ever();
"""
BACK = "DROP TRIGGER journal_append_only ON journal_entry; DROP FUNCTION journal_is_for_ever();"


class Migration(migrations.Migration):
    dependencies = [("journal", "0001_initial")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
