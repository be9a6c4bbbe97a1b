import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('notices', '0001_initial'),
    ]

    operations = [
        migrations.AlterField(
            model_name='notice',
            name='kind',
            field=models.CharField(choices=[('receipt', 'receipt: what was picked up'), ('progress', 'progress: what the plant finished or rejected, and corrections')], max_length=20),
        ),
        migrations.CreateModel(
            name='Line',
            fields=[
                ('id', models.BigAutoField(primary_key=True, serialize=False)),
                ('contact', models.UUIDField()),
                ('work_order', models.UUIDField()),
                ('place', models.PositiveIntegerField()),
                ('news', models.CharField(max_length=120)),
                ('label', models.CharField(max_length=8)),
                ('notice', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='lines', to='notices.notice')),
            ],
            options={
                'db_table': 'notices_line',
                'indexes': [models.Index(fields=['work_order'], name='line_work_order'), models.Index(fields=['label'], name='line_label')],
                'constraints': [models.UniqueConstraint(fields=('contact', 'work_order', 'place'), name='line_told_once')],
            },
        ),
    ]
