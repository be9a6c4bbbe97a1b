"""Questions that are the plant's to answer, in words: open ones about this plant, oldest first."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.urls import reverse

from pickups.questions import queries as questions
from pickups.questions.models import Question
from pickups.questions.rules import OWNER, Kind
from plant.floor import words

PLANTS = frozenset(kind for kind, owner in OWNER.items() if owner == "plant")
"""Their facts name the plant."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One question. facts: what is known, a line each. label: of the casing it is about, "" where
    it is about a load. load: the address of the load's page. at_load: it is decided there."""

    id: int
    kind: str
    meaning: str
    facts: list[str]
    age: str
    label: str
    load: str
    at_load: bool


def open_ones(plant: UUID, language: str, *, at: datetime) -> list[Asked]:
    """All that wait for somebody at this plant."""
    rows = questions.open_questions().filter(kind__in=PLANTS, facts__plant=str(plant))
    return [_asked(row, language, at) for row in rows]


def one(plant: UUID, number: int, language: str, *, at: datetime) -> Asked | None:
    """One that waits; None where it was answered or is not this plant's."""
    return next((q for q in open_ones(plant, language, at=at) if q.id == number), None)


def _asked(row: Question, language: str, at: datetime) -> Asked:
    number = str(row.facts.get("number", ""))
    subject, _, code = row.subject.partition(":")
    label = code if subject == "label" else ""
    facts = [words.grouped(label)] if label else [words.say(language, "asked_load", number=number)]
    if labels := row.facts.get("labels"):
        facts.append(words.say(language, "asked_casings",
                               labels=", ".join(map(words.grouped, labels))))  # fmt: skip
    if "reworks" in row.facts:
        facts.append(words.say(language, "asked_reworks", n=row.facts["reworks"],
                               most=row.facts["limit"]))  # fmt: skip
    return Asked(
        id=row.id,
        kind=row.kind,
        meaning=words.of(language)[f"asked_{row.kind}"],
        facts=facts,
        age=words.span(language, (at - row.asked_at).total_seconds()),
        label=label,
        load=reverse("plant-load", args=[number]) if number else "",
        at_load=row.kind == Kind.LOAD_SHORT,
    )
