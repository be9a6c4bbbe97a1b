"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class AdjustmentsConfig(AppConfig):
    name = "plant.adjustments"
    label = "adjustments"
    default_auto_field = "django.db.models.BigAutoField"
