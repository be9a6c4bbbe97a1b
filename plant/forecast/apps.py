"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class ForecastConfig(AppConfig):
    name = "plant.forecast"
    label = "forecast"
    default_auto_field = "django.db.models.BigAutoField"
