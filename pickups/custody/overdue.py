"""What nobody has told for too long, asked about once: visits without an end, hand-overs of which
only one side has told. Run by beat; a question that was settled is not asked again.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID

from django.db import connection, transaction

from pickups.custody import fold, handing, ledger
from pickups.custody.fold import Kind, LabelView
from pickups.custody.handing import HandOver
from pickups.kernel import locks
from pickups.questions import queries as questions_read
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask

_UNFINISHED = """
WITH told AS (
  SELECT pickup, uid, picked_up_at AS at FROM casings_work_order WHERE NOT withdrawn
  UNION ALL SELECT pickup, uid, told_at FROM custody_visit_line WHERE NOT withdrawn)
SELECT t.pickup, (array_agg(t.uid ORDER BY t.at))[1], count(*)
FROM told t
WHERE t.at BETWEEN %s AND %s
  AND NOT EXISTS (SELECT 1 FROM custody_pickup p WHERE p.uid = t.pickup)
GROUP BY t.pickup ORDER BY t.pickup
"""
_UNDELIVERED = """
SELECT f.told ->> 'delivery', (array_agg(f.uid ORDER BY f.stamp, f.uid))[1], count(*)
FROM custody_fact f
WHERE f.kind = 'returned' AND f.recorded_at BETWEEN %s AND %s AND f.told ->> 'delivery' IS NOT NULL
  AND NOT EXISTS (SELECT 1 FROM custody_delivery d WHERE d.uid = (f.told ->> 'delivery')::uuid)
GROUP BY 1 ORDER BY 1
"""
OPEN_FOR = timedelta(days=1)
LOOK_BACK = timedelta(days=60)


def ask_unfinished(*, at: datetime) -> int:
    """Ask about visits that were begun more than a day ago and never finished (the phone may be
    lost, closed or forgotten): of a pickup the customer has no receipt, of a delivery nobody knows
    whether anybody signed. Returns how many are asked about.
    """
    asks: list[Ask] = []
    with connection.cursor() as c:
        for kind, visit, unfinished in (
            (Question.PICKUP_OPEN, "pickup", _UNFINISHED),
            (Question.DELIVERY_OPEN, "delivery", _UNDELIVERED),
        ):
            c.execute(unfinished, [at - LOOK_BACK, at - OPEN_FOR])
            asks += [
                Ask(kind, f"{visit}:{uid}", {"fact": str(first), "ours": count})
                for uid, first, count in c.fetchall()
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
            touched, kept = ledger.reach(some, [])
            views = fold.each(fold.labels([k.fact for k in kept], touched))
            told = {uid for label in some for uid in waiting[label]}
            found = [h for v in views for h in _one_sided(v, told)]
            asked += _ask(_about(found), at)
    return asked


def _one_sided(view: LabelView, waiting: set[UUID]) -> list[HandOver]:
    if view.contested:
        return []
    found = handing.one_sided(view.facts)
    return [h for h in found if any(f.uid in waiting for f in h.witnesses)]


def _about(found: Sequence[HandOver]) -> list[Ask]:
    """One question a hand-over: about the telling of it that was asked about before, else about
    its first, since one that comes later may have been told earlier."""
    kind = Question.ONE_SIDE_ONLY
    subjects = [f"fact:{f.uid}" for h in found for f in h.witnesses]
    before = questions_read.asked_about(kind, subjects)
    asks = []
    for h in found:
        told = [f"fact:{f.uid}" for f in h.witnesses]
        named = next((subject for subject in told if subject in before), told[0])
        asks.append(Ask(kind, named, {"taker": h.taker}))
    return asks


def _ask(asks: Sequence[Ask], at: datetime) -> int:
    """Ask what was not settled before; returns how many."""
    settled = {
        kind: questions_read.settled_about(kind, [a.subject for a in asks if a.kind is kind])
        for kind in {a.kind for a in asks}
    }
    due = [a for a in asks if a.subject not in settled[a.kind]]
    questions.ask(due, at=at)
    return len(due)
