"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class DeskConfig(AppConfig):
    name = "pickups.desk"
    label = "desk"
    default_auto_field = "django.db.models.BigAutoField"
