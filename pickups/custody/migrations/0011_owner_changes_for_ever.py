"""The database itself refuses to change or delete a fact of ownership."""

from django.db import migrations

FORWARD = """
CREATE FUNCTION custody_owner_change_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a fact is never changed' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER custody_owner_change_append_only BEFORE UPDATE OR DELETE ON custody_owner_change
  FOR EACH ROW EXECUTE FUNCTION custody_owner_change_is_for_ever();
"""
BACK = """
DROP TRIGGER custody_owner_change_append_only ON custody_owner_change;
DROP FUNCTION custody_owner_change_is_for_ever();
"""


class Migration(migrations.Migration):
    dependencies = [("custody", "0010_owner_changes")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
