"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class ExchangeConfig(AppConfig):
    name = "pickups.exchange"
    label = "exchange"
    default_auto_field = "django.db.models.BigAutoField"
