from django.apps import AppConfig


class CustodyConfig(AppConfig):
    name = "pickups.custody"
    label = "custody"
    default_auto_field = "django.db.models.BigAutoField"
