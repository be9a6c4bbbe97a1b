"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class DockConfig(AppConfig):
    name = "plant.dock"
    label = "dock"
    default_auto_field = "django.db.models.BigAutoField"
