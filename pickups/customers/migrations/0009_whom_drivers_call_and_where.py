"""Whom drivers call, at a yard or at all of them; and where a yard's gate is."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('customers', '0008_contact_may_sell'),
    ]

    operations = [
        migrations.AddField(
            model_name='contact',
            name='phone',
            field=models.CharField(blank=True, help_text="Drivers at the customer's yards can call it.", max_length=40),
        ),
        migrations.AddField(
            model_name='contact',
            name='yard',
            field=models.ForeignKey(blank=True, help_text='Whom drivers call for this yard; empty: for every yard that has nobody.', null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='contacts', to='customers.yard'),
        ),
        migrations.AddField(
            model_name='historicalyard',
            name='lat',
            field=models.DecimalField(blank=True, decimal_places=6, help_text='Of the gate, degrees north (WGS 84), as 41.123456; a phone finds the way by it.', max_digits=9, null=True, verbose_name='latitude'),
        ),
        migrations.AddField(
            model_name='historicalyard',
            name='lon',
            field=models.DecimalField(blank=True, decimal_places=6, help_text='Degrees east, so west of Greenwich with a minus: -88.123456.', max_digits=9, null=True, verbose_name='longitude'),
        ),
        migrations.AddField(
            model_name='yard',
            name='lat',
            field=models.DecimalField(blank=True, decimal_places=6, help_text='Of the gate, degrees north (WGS 84), as 41.123456; a phone finds the way by it.', max_digits=9, null=True, verbose_name='latitude'),
        ),
        migrations.AddField(
            model_name='yard',
            name='lon',
            field=models.DecimalField(blank=True, decimal_places=6, help_text='Degrees east, so west of Greenwich with a minus: -88.123456.', max_digits=9, null=True, verbose_name='longitude'),
        ),
        migrations.AddConstraint(
            model_name='yard',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('lat', None), ('lon', None)), models.Q(('lat__isnull', False), ('lat__range', (-90, 90)), ('lon__isnull', False), ('lon__range', (-180, 180))), _connector='OR'), name='yard_is_on_earth', violation_error_message='Give both latitude (-90 to 90) and longitude (-180 to 180), or neither.'),
        ),
    ]
