"""Reads of the questions."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import QuerySet

from pickups.questions.models import Question


def open_questions() -> QuerySet[Question]:
    """What waits for a person, oldest first."""
    return Question.objects.filter(settled_at=None).order_by("asked_at", "id")


def settled_lately(count: int) -> list[Question]:
    """The questions that were answered last, the latest first."""
    return list(Question.objects.exclude(settled_at=None).order_by("-settled_at", "-id")[:count])


def question(number: int) -> Question | None:
    """One question, open or settled."""
    return Question.objects.filter(id=number).first()


def subjects_in_question(subjects: Iterable[str]) -> set[str]:
    """Which of these subjects have an open question."""
    rows = Question.objects.filter(subject__in=list(subjects), settled_at=None)
    return set(rows.values_list("subject", flat=True))


def open_about(subject: str) -> list[str]:
    """Kinds of the open questions about one subject."""
    return list(
        Question.objects.filter(subject=subject, settled_at=None).values_list("kind", flat=True)
    )


def asked_about(kind: str, subjects: Iterable[str]) -> set[str]:
    """About which of these subjects a question of this kind was ever asked, settled or not."""
    rows = Question.objects.filter(kind=kind, subject__in=list(subjects))
    return set(rows.values_list("subject", flat=True))


def open_of(kind: str, subjects: Iterable[str]) -> set[str]:
    """About which of these subjects a question of this kind is open."""
    rows = Question.objects.filter(kind=kind, subject__in=list(subjects), settled_at=None)
    return set(rows.values_list("subject", flat=True))


def settled_about(kind: str, subjects: Iterable[str]) -> set[str]:
    """About which of these subjects a question of this kind was asked and settled."""
    rows = Question.objects.filter(kind=kind, subject__in=list(subjects))
    return set(rows.exclude(settled_at=None).values_list("subject", flat=True))


def was_decided(kind: str, subject: str, facts: Mapping[str, Any]) -> bool:
    """Whether a person has settled a question of this kind and subject with the very same facts."""
    same = Question.objects.filter(kind=kind, subject=subject, facts=dict(facts))
    return same.exclude(settled_by=None).exists()
