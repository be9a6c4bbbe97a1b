from django.db import migrations, models
from django.db.models.fields.json import KeyTextTransform


class Migration(migrations.Migration):

    dependencies = [
        ('custody', '0006_shown_to_who_signed'),
    ]

    operations = [
        migrations.AddIndex(
            model_name='fact',
            index=models.Index(KeyTextTransform('delivery', 'told'), condition=models.Q(('kind', 'returned')), name='fact_delivery'),
        ),
        migrations.AddIndex(
            model_name='fact',
            index=models.Index(condition=models.Q(('kind', 'returned')), fields=['recorded_at'], name='fact_returned'),
        ),
    ]
