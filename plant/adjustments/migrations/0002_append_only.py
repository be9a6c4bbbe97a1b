"""The database itself refuses to change or delete what was claimed, settled and decided."""

from django.db import migrations

TABLES = (
    "adjustments_owed",
    "adjustments_settled",
    "adjustments_claim",
    "adjustments_claim_decision",
)

FORWARD = """
CREATE FUNCTION adjustments_are_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what was decided is never changed' USING ERRCODE = 'restrict_violation';
END $$;
""" + "".join(
    f"CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE ON {table}"
    " FOR EACH ROW EXECUTE FUNCTION adjustments_are_for_ever();\n"
    for table in TABLES
)
BACK = "".join(f"DROP TRIGGER {table}_append_only ON {table};\n" for table in TABLES) + (
    "DROP FUNCTION adjustments_are_for_ever();"
)


class Migration(migrations.Migration):
    dependencies = [("adjustments", "0001_owed_and_claims")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
