"""The curing app."""

from django.apps import AppConfig


class CuringConfig(AppConfig):
    """Registered as `curing`."""

    name = "plant.curing"
    label = "curing"
