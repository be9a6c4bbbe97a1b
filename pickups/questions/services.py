"""Ask and settle. Both are safe to repeat: an open question is only brought up to date."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import connection

from pickups.kernel.bulk import jsonb, texts
from pickups.questions.rules import OWNER, Kind


@dataclass(frozen=True)
class Ask:
    """A question to be asked: its kind, its subject (such as `label:<code>`), facts beside it."""

    kind: Kind
    subject: str
    facts: Mapping[str, Any]


_gathered: ContextVar[dict[tuple[Kind, str], Ask] | None] = ContextVar("gathered", default=None)


@contextmanager
def together(*, at: datetime) -> Iterator[None]:
    """Whatever is asked inside is written at the end, in one statement; nothing where it raises.

    Transactions that share no lock key still meet at questions about one yard or one person: in
    one statement and one order they never wait for each other in a ring.
    """
    asked: dict[tuple[Kind, str], Ask] = {}
    token = _gathered.set(asked)
    try:
        yield
    finally:
        _gathered.reset(token)
    ask(asked.values(), at=at)


def ask(questions: Iterable[Ask], *, at: datetime) -> None:
    """Open each question, or bring the facts of the open one up to date. One statement."""
    unique = {(q.kind, q.subject): q for q in questions}
    if (later := _gathered.get()) is not None:
        later.update(unique)
        return
    if not unique:
        return
    # In the order of the key, so that two transactions meet open questions in the same order.
    rows = [unique[key] for key in sorted(unique)]
    with connection.cursor() as c:
        c.execute(
            "INSERT INTO questions_question (kind, subject, owner, facts, asked_at, settlement)"
            " SELECT k, s, o, f, %s, ''"
            " FROM unnest(%s::text[], %s::text[], %s::text[], %s::jsonb[]) q(k, s, o, f)"
            " ON CONFLICT (kind, subject) WHERE settled_at IS NULL"
            " DO UPDATE SET facts = EXCLUDED.facts",
            [
                at,
                [q.kind.value for q in rows],
                [q.subject for q in rows],
                [OWNER[q.kind] for q in rows],
                [jsonb(dict(q.facts)) for q in rows],
            ],
        )


def settle(
    *,
    kinds: Iterable[Kind],
    subjects: Iterable[str],
    how: str,
    at: datetime,
    by: UUID | None = None,
) -> int:
    """Close the open questions of these kinds about these subjects; returns how many were open."""
    kinds, subjects = set(kinds), set(subjects)
    later = _gathered.get() or {}
    for key in [k for k in later if k[0] in kinds and k[1] in subjects]:
        del later[key]  # asked and settled in one transaction
    with connection.cursor() as c:
        c.execute(
            "UPDATE questions_question SET settled_at = %s, settled_by = %s, settlement = %s"
            " WHERE kind = ANY(%s::text[]) AND subject = ANY(%s::text[]) AND settled_at IS NULL",
            [at, by, how[:500], texts(kinds), texts(subjects)],
        )
        return int(c.rowcount)
