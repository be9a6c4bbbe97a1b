"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class FloorConfig(AppConfig):
    name = "plant.floor"
    label = "floor"
    default_auto_field = "django.db.models.BigAutoField"
