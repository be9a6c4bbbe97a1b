"""The database itself refuses to change or delete a fact; only its adoption may change."""

from django.db import migrations

FORWARD = """
CREATE FUNCTION custody_fact_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND to_jsonb(NEW) - 'work_order' = to_jsonb(OLD) - 'work_order' THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'a fact is never changed' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER custody_fact_append_only BEFORE UPDATE OR DELETE ON custody_fact
  FOR EACH ROW EXECUTE FUNCTION custody_fact_is_for_ever();
"""
BACK = """
DROP TRIGGER custody_fact_append_only ON custody_fact;
DROP FUNCTION custody_fact_is_for_ever();
"""


class Migration(migrations.Migration):
    dependencies = [("custody", "0001_initial")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
