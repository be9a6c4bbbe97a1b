"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class CuringConfig(AppConfig):
    name = "plant.curing"
    label = "curing"
    default_auto_field = "django.db.models.BigAutoField"
