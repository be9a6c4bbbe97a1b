import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('customers', '0002_initial'),
    ]

    operations = [
        migrations.CreateModel(
            name='Link',
            fields=[
                ('id', models.BigAutoField(primary_key=True, serialize=False)),
                ('token_hash', models.BinaryField(max_length=32)),
                ('made_at', models.DateTimeField()),
                ('made_by', models.UUIDField(null=True)),
                ('expires_at', models.DateTimeField()),
                ('revoked_at', models.DateTimeField(null=True)),
                ('used_at', models.DateTimeField(null=True)),
                ('contact', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='links', to='customers.contact')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('token_hash',), name='link_token_once')],
            },
        ),
    ]
