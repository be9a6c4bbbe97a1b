"""The database itself refuses to change or delete what was told, recorded, entered and decided.

Who was named qualified may be ended, once.
"""

from django.db import migrations

TABLES = (
    "curing_specification",
    "curing_load_word",
    "curing_record",
    "curing_hold",
    "curing_decision",
)

FORWARD = """
CREATE FUNCTION curing_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what was told of a cure load is never changed'
    USING ERRCODE = 'restrict_violation';
END $$;
""" + "".join(
    f"CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE ON {table}"
    " FOR EACH ROW EXECUTE FUNCTION curing_is_for_ever();\n"
    for table in TABLES
)
BACK = "".join(f"DROP TRIGGER {table}_append_only ON {table};\n" for table in TABLES) + (
    "DROP FUNCTION curing_is_for_ever();"
)


class Migration(migrations.Migration):
    dependencies = [("curing", "0001_loads_records_and_decisions")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
