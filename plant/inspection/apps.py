"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class InspectionConfig(AppConfig):
    name = "plant.inspection"
    label = "inspection"
    default_auto_field = "django.db.models.BigAutoField"
