"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class PortalConfig(AppConfig):
    name = "pickups.portal"
    label = "portal"
    default_auto_field = "django.db.models.BigAutoField"
