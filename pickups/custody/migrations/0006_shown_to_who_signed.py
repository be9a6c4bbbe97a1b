from django.db import migrations, models

_OF_THE_END_THAT_WAS_SIGNED = """
UPDATE custody_signature s SET shown = COALESCE((
  SELECT f.told ->> 'shown' FROM custody_fact f
  WHERE f.kind IN ('pickup_end', 'delivery_end') AND f.told ->> 'visit' = s.visit::text
    AND f.told ? 'signed'
  ORDER BY f.stamp, f.uid LIMIT 1), '')
"""


class Migration(migrations.Migration):

    dependencies = [
        ('custody', '0005_told_by_one'),
    ]

    operations = [
        migrations.AddField(
            model_name='signature',
            name='shown',
            field=models.CharField(blank=True, default='', max_length=64),
        ),
        migrations.RunSQL(_OF_THE_END_THAT_WAS_SIGNED, migrations.RunSQL.noop),
    ]
