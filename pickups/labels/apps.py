"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class LabelsConfig(AppConfig):
    name = "pickups.labels"
    label = "labels"
    default_auto_field = "django.db.models.BigAutoField"
