"""Casings that were taken although their customer's specification speaks against it: asked about.

Nothing is refused: what was taken was taken. Who overrules the spec check says why, and that is
kept with the casing and shown on its page: then nobody is asked. A dispatcher is asked where the
check said to leave it and no reason was given; and where it was held against another number than
the one in force when it was entered, its clock set right (the phone had not heard of it yet), and
that one says to leave it. Apps that knew of no spec check are not asked after. Safe to repeat.
"""

from collections.abc import Collection, Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from pickups.casings import eligibility
from pickups.casings import queries as casings
from pickups.casings.eligibility import Finding, Looked, Tin, Verdict
from pickups.custody import queries
from pickups.customers import queries as customers
from pickups.customers.queries import Specified
from pickups.kernel import clock
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question


def review(*, work_orders: Collection[UUID], at: datetime) -> None:
    """Ask about those that were taken against a specification; settle what no longer holds."""
    orders = casings.work_orders(work_orders)
    told = {uid: facts for uid, facts in queries.pick_ups(list(orders)).items() if facts}
    stood = customers.specifications_stood({w.yard for w in orders.values()})
    asks: list[questions.Ask] = []
    over: set[str] = set()
    for uid, facts in told.items():
        order, last = orders[uid], facts[-1]
        told_at = clock.set_right(last.happened_at, last.skew_ms or 0)
        held = stood.at(order.yard, told_at)
        because = None if order.withdrawn else _against(order.told, held, _day(told_at))
        subject = f"fact:{last.uid}"
        if because is not None:
            said = {"against": because, "by_number": held.number if held else None}
            asks.append(questions.Ask(Question.NOT_ACCEPTED, subject, said))
        over |= {f"fact:{fact.uid}" for fact in facts} - (set() if because is None else {subject})
    with transaction.atomic():
        how = "told anew or withdrawn"
        questions.settle(kinds=[Question.NOT_ACCEPTED], subjects=over, how=how, at=at)
        # What a person has settled about this very fact is not asked again.
        before = asked.asked_about(Question.NOT_ACCEPTED, [ask.subject for ask in asks])
        questions.ask([ask for ask in asks if ask.subject not in before], at=at)


def _against(told: Mapping[str, Any], held: Specified | None, day: date) -> list[str] | None:
    """The rules that say to leave it where nobody said why it was taken, as far as they were told;
    None: all is well."""
    check = told.get("check") or {}
    if "line" not in told or check.get("overruled"):
        return None
    if check.get("verdict") == Verdict.LEAVE:
        return list(check["because"])
    named = (check.get("specification"), check.get("number"))
    if check and named == ((str(held.uid), held.number) if held else (None, None)):
        return None  # held against the very one
    result = eligibility.check(held.terms if held else None, _looked(told), day)
    grave = [ground for ground in result.grounds if ground.verdict is Verdict.LEAVE]
    return list(dict.fromkeys(ground.rule.value for ground in grave)) or None


def _looked(told: Mapping[str, Any]) -> Looked:
    findings = [
        Finding(one["zone"], one["kind"], one["count"], one["mm"])
        for one in told.get("findings", ())
    ]
    return Looked(
        line=told["line"],
        tins=[Tin(one["tin"], one["made"]) for one in told.get("tins", ())],
        size=told.get("size", ""),
        brand=told.get("brand", ""),
        findings=findings,
        position=told.get("position", ""),
        work=told.get("work", "retread"),
    )


def _day(at: datetime) -> date:
    """The dealer's day of an instant."""
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()
