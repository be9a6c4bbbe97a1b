"""What drivers tell of a run, row by row; the database itself refuses to change one."""

from django.db import migrations, models


FORWARD = """
CREATE FUNCTION runs_happening_is_for_ever() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what a driver has told is never changed' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER runs_happening_append_only BEFORE UPDATE OR DELETE ON runs_happening
  FOR EACH ROW EXECUTE FUNCTION runs_happening_is_for_ever();
"""
BACK = """
DROP TRIGGER runs_happening_append_only ON runs_happening;
DROP FUNCTION runs_happening_is_for_ever();
"""


class Migration(migrations.Migration):

    dependencies = [
        ('runs', '0002_stops_in_order'),
    ]

    operations = [
        migrations.CreateModel(
            name='Happening',
            fields=[
                ('uid', models.UUIDField(editable=False, primary_key=True, serialize=False)),
                ('run', models.UUIDField(null=True)),
                ('stop', models.UUIDField(null=True)),
                ('kind', models.CharField(max_length=12)),
                ('told', models.JSONField(default=dict)),
                ('stamp', models.BigIntegerField()),
                ('by', models.UUIDField()),
                ('device', models.UUIDField()),
                ('skew_ms', models.BigIntegerField(default=0)),
                ('happened_at', models.DateTimeField()),
                ('recorded_at', models.DateTimeField()),
            ],
            options={
                'db_table': 'runs_happening',
                'indexes': [models.Index(fields=['run'], name='happening_of_run')],
            },
        ),
        migrations.RunSQL(FORWARD, BACK),
    ]
