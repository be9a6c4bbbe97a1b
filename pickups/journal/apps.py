"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class JournalConfig(AppConfig):
    name = "pickups.journal"
    label = "journal"
    default_auto_field = "django.db.models.BigAutoField"
