"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class PeopleConfig(AppConfig):
    name = "pickups.people"
    label = "people"
    default_auto_field = "django.db.models.BigAutoField"
