from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('custody', '0013_receipt_links'),
    ]

    operations = [
        migrations.AddField(
            model_name='pickup',
            name='emptied',
            field=models.JSONField(null=True),
        ),
        migrations.AlterField(
            model_name='fact',
            name='kind',
            field=models.CharField(choices=[('picked_up', 'picked_up'), ('withdrawn', 'withdrawn'), ('received', 'received'), ('passed', 'passed'), ('repair', 'repair'), ('hold', 'hold'), ('released', 'released'), ('rejected', 'rejected'), ('finished', 'finished'), ('shipped', 'shipped'), ('returned', 'returned'), ('handed_in', 'handed_in'), ('handed_out', 'handed_out'), ('relabelled', 'relabelled'), ('pickup_end', 'pickup_end'), ('delivery_end', 'delivery_end'), ('reminded', 'reminded'), ('emptied', 'emptied'), ('scrap', 'scrap'), ('left', 'left')], max_length=12),
        ),
    ]
