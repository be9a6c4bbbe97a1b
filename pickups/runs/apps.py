"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class RunsConfig(AppConfig):
    name = "pickups.runs"
    label = "runs"
    default_auto_field = "django.db.models.BigAutoField"
