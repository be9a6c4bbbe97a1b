"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class CustomersConfig(AppConfig):
    name = "pickups.customers"
    label = "customers"
    default_auto_field = "django.db.models.BigAutoField"
