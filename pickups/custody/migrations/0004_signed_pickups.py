from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('custody', '0003_hand_over'),
    ]

    operations = [
        migrations.RenameField('signature', 'delivery', 'visit'),
        migrations.AddField('pickup', 'store', models.UUIDField(null=True)),
        migrations.AddField('delivery', 'store', models.UUIDField(null=True)),
        migrations.AddField('pickup', 'shown', models.CharField(blank=True, max_length=64)),
        migrations.AddField('pickup', 'unsigned', models.CharField(blank=True, max_length=500)),
    ]
