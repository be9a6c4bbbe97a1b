"""The composition root as a Django app: at start-up it wires the tables and checks them."""

from django.apps import AppConfig


class ConfigConfig(AppConfig):
    """Last in INSTALLED_APPS, so that every app below is ready when it wires them."""

    name = "pickups.config"
    label = "config"

    def ready(self) -> None:
        """Install the tables of wiring.py into the registries; register the system checks."""
        from pickups.config import checks, wiring

        wiring.install()
        checks.register_all()
