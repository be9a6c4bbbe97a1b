"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class SyncConfig(AppConfig):
    name = "pickups.sync"
    label = "sync"
    default_auto_field = "django.db.models.BigAutoField"
