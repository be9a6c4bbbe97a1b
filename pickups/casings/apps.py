from django.apps import AppConfig


class CasingsConfig(AppConfig):
    name = "pickups.casings"
    label = "casings"
    default_auto_field = "django.db.models.BigAutoField"
