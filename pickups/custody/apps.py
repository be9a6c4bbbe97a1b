"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class CustodyConfig(AppConfig):
    name = "pickups.custody"
    label = "custody"
    default_auto_field = "django.db.models.BigAutoField"
