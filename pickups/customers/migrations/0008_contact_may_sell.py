"""Which contact may accept the sale of a casing: nobody, until the records say so."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("customers", "0007_specification_append_only")]

    operations = [
        migrations.AddField(
            model_name="contact",
            name="may_sell",
            field=models.BooleanField(
                default=False,
                help_text="This person may accept the sale of a casing in the customer's name.",
            ),
        ),
    ]
