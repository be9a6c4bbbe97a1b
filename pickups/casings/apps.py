"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class CasingsConfig(AppConfig):
    name = "pickups.casings"
    label = "casings"
    default_auto_field = "django.db.models.BigAutoField"
