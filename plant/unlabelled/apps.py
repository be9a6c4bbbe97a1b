"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class UnlabelledConfig(AppConfig):
    name = "plant.unlabelled"
    label = "unlabelled"
    default_auto_field = "django.db.models.BigAutoField"
