"""What nobody has told for too long, asked about once: pickups without an end, hand-overs of which
only one side has told. Run by beat; a question that was settled is not asked again.
"""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from uuid import UUID

from django.db import connection, transaction

from pickups.custody import fold, handing, ledger
from pickups.custody.fold import Kind, LabelView
from pickups.kernel import locks
from pickups.questions import queries as questions_read
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask

_UNFINISHED = """
SELECT w.pickup, (array_agg(w.uid ORDER BY w.picked_up_at))[1], count(*)
FROM casings_work_order w
WHERE NOT w.withdrawn AND w.picked_up_at BETWEEN %s AND %s
  AND NOT EXISTS (SELECT 1 FROM custody_pickup p WHERE p.uid = w.pickup)
GROUP BY w.pickup ORDER BY w.pickup
"""
OPEN_FOR = timedelta(days=1)
LOOK_BACK = timedelta(days=60)


def ask_unfinished(*, at: datetime) -> int:
    """Ask about pickups that were begun more than a day ago and never finished (the phone may be
    lost, closed or forgotten): their customers have no receipt. Returns how many are asked about.
    """
    with connection.cursor() as c:
        c.execute(_UNFINISHED, [at - LOOK_BACK, at - OPEN_FOR])
        rows = c.fetchall()
    asks = [
        Ask(Question.PICKUP_OPEN, f"pickup:{uid}", {"fact": str(first), "ours": count})
        for uid, first, count in rows
    ]
    with transaction.atomic():
        return _ask(asks, at)


_TOLD_BY_ONE = """
SELECT f.label, f.uid FROM custody_fact f
WHERE f.kind IN ('handed_in', 'shipped') AND f.recorded_at BETWEEN %s AND %s
  AND (f.kind = 'shipped' OR f.holder LIKE 'plant:%%')
  AND NOT EXISTS (
    SELECT 1 FROM custody_fact l WHERE l.label = f.label AND l.stamp > f.stamp
    AND l.kind = ANY(CASE f.kind WHEN 'shipped' THEN %s::text[] ELSE %s::text[] END))
ORDER BY f.label
"""
"""Hand-overs that may be told by one side only; what the fold of them says decides."""
_LABELS_AT_ONCE = 100


def ask_one_sided(*, at: datetime) -> int:
    """Ask about hand-overs that were recorded more than a day ago and that the other side has
    never told: brought to a plant that says nothing of it, shipped and taken over by nobody.

    A day after it was recorded, not after it happened: what a phone without signal told late may
    be answered late too. Nothing is asked about a contested label, which has its own question.
    Returns how many are asked about.
    """
    answers = [[k.value for k in handing.ANSWERS[kind]] for kind in (Kind.SHIPPED, Kind.HANDED_IN)]
    with connection.cursor() as c:
        c.execute(_TOLD_BY_ONE, [at - LOOK_BACK, at - OPEN_FOR, *answers])
        waiting: dict[str, set[UUID]] = {}
        for label, uid in c.fetchall():
            waiting.setdefault(label, set()).add(uid)
    asked = 0
    labels = list(waiting)
    for start in range(0, len(labels), _LABELS_AT_ONCE):
        some = labels[start : start + _LABELS_AT_ONCE]
        with transaction.atomic():
            # A word that comes meanwhile waits, and settles what is asked here.
            locks.take(locks.label_key(label) for label in some)
            kept = ledger.under(some, [])
            views = fold.labels([k.fact for k in kept], some)
            asked += _ask([a for v in views.values() for a in _asks(v, waiting[v.label])], at)
    return asked


def _asks(view: LabelView, waiting: set[UUID]) -> Iterable[Ask]:
    """One question a hand-over, about its first telling."""
    if view.contested:
        return
    for h in handing.one_sided(view.facts):
        if any(f.uid in waiting for f in h.witnesses):
            yield Ask(Question.ONE_SIDE_ONLY, f"fact:{h.witnesses[0].uid}", {"taker": h.taker})


def _ask(asks: Sequence[Ask], at: datetime) -> int:
    """Ask what was not settled before; returns how many."""
    settled = {
        kind: questions_read.settled_about(kind, [a.subject for a in asks if a.kind is kind])
        for kind in {a.kind for a in asks}
    }
    due = [a for a in asks if a.subject not in settled[a.kind]]
    questions.ask(due, at=at)
    return len(due)
