"""The database itself refuses to change or delete what owners were told to stop using."""

from django.db import migrations

TABLES = ("notices_stop_use", "notices_stop_use_casing", "notices_stop_use_step")

FORWARD = """
CREATE FUNCTION stop_uses_are_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a stop-use notice is never changed' USING ERRCODE = 'restrict_violation';
END $$;
""" + "".join(
    f"CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE ON {table}"
    " FOR EACH ROW EXECUTE FUNCTION stop_uses_are_for_ever();\n"
    for table in TABLES
)
BACK = "".join(f"DROP TRIGGER {table}_append_only ON {table};\n" for table in TABLES) + (
    "DROP FUNCTION stop_uses_are_for_ever();"
)


class Migration(migrations.Migration):
    dependencies = [("notices", "0007_stop_use")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
