"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class NoticesConfig(AppConfig):
    name = "pickups.notices"
    label = "notices"
    default_auto_field = "django.db.models.BigAutoField"
