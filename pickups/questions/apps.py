"""The app as Django knows it. Wiring only."""

from django.apps import AppConfig


class QuestionsConfig(AppConfig):
    name = "pickups.questions"
    label = "questions"
    default_auto_field = "django.db.models.BigAutoField"
