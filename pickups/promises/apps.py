"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class PromisesConfig(AppConfig):
    name = "pickups.promises"
    label = "promises"
    default_auto_field = "django.db.models.BigAutoField"
