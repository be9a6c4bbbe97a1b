"""The database itself refuses to change or delete a word about what a customer accepts."""

from django.db import migrations

FORWARD = """
CREATE FUNCTION customers_specification_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a version of a specification is never changed'
    USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER customers_specification_version_append_only
  BEFORE UPDATE OR DELETE ON customers_specification_version
  FOR EACH ROW EXECUTE FUNCTION customers_specification_is_for_ever();
"""
BACK = """
DROP TRIGGER customers_specification_version_append_only ON customers_specification_version;
DROP FUNCTION customers_specification_is_for_ever();
"""


class Migration(migrations.Migration):
    dependencies = [("customers", "0006_specification")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
