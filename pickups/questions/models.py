"""Open and settled questions."""

from django.db import models
from django.db.models import Q


class Question(models.Model):
    """One thing that waits for a person; `facts` holds ids and codes, never names."""

    id = models.BigAutoField(primary_key=True)
    kind = models.CharField(max_length=40)
    subject = models.CharField(max_length=80)
    owner = models.CharField(max_length=12)
    facts = models.JSONField()
    asked_at = models.DateTimeField()
    settled_at = models.DateTimeField(null=True)
    settled_by = models.UUIDField(null=True)
    settlement = models.CharField(max_length=500, blank=True)

    class Meta:
        db_table = "questions_question"
        constraints = (
            models.UniqueConstraint(
                fields=["kind", "subject"], condition=Q(settled_at=None), name="question_open_once"
            ),
        )
        indexes = (models.Index(fields=["subject"], name="question_subject"),)
