"""Casings picked up with a promise, as phones tell them, and what is then kept and asked."""

from datetime import date, datetime, time
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.promises.models import Promise, Table
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from tests.world import Phone, World


def noon(day: date) -> datetime:
    """Noon of a day in the dealer's zone."""
    return datetime.combine(day, time(12), ZoneInfo(settings.DEALER_TIME_ZONE))


def today() -> date:
    """The day in the dealer's zone."""
    return clock.now().astimezone(ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def drained() -> None:
    """The journal owes nothing more."""
    while journal.drain():
        pass


def by_hand(day: date | str) -> dict[str, Any]:
    """A day that a person named."""
    return {"on": str(day), "basis": "by_hand", "offered": None, "table": None}


def by_table(day: date | str) -> dict[str, Any]:
    """A day that a table of standard times offered."""
    return {"on": str(day), "basis": "standard_time", "offered": str(day), "table": 7}


def taken(
    phone: Phone,
    world: World,
    promised: Any,
    *,
    on: date | None = None,
    version: int = 2,
    **more: Any,
) -> dict[str, Any]:
    """One casing entered at the first customer's yard, handed over on a day; the operation."""
    changed = {"happened_at": clock.rfc3339(noon(on))} if on else {}
    payload = {
        "pickup": str(uuid4()),
        "yard": str(world.yard.uid),
        "label": world.a_label() if "label" not in more else more["label"],
        "promised": promised if isinstance(promised, dict | None) else by_hand(promised),
        **more,
    }
    return phone.enter("custody.pick_up", payload, version=version, **changed)


def told_again(
    phone: Phone, op: dict[str, Any], *, stamp: int = 0, version: int = 2, **changed: Any
) -> dict[str, Any]:
    """The casing of an operation entered again, otherwise; the operation."""
    if not isinstance(changed.get("promised", {}), dict | None):
        changed["promised"] = by_hand(changed["promised"])
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    payload = op["payload"] | changed | {"corrects": named}
    at = {"stamp": stamp} if stamp else {}
    return phone.enter("custody.pick_up", payload, version=version, **at)


def sent(phone: Phone, *operations: dict[str, Any]) -> None:
    """Push these, or the whole outbox, and drain what it owes."""
    assert phone.push(list(operations) or None).status == 200
    drained()


def promise(op: dict[str, Any]) -> Promise:
    """The promise that an operation made."""
    return Promise.objects.get(uid=op["id"])


def asked(op: dict[str, Any]) -> dict[str, str] | None:
    """The facts of the open question whether an operation's promise is too early; None: none."""
    subject = f"fact:{op['id']}"
    rows = Question.objects.filter(kind=Kind.PROMISE_TOO_EARLY, subject=subject, settled_at=None)
    return {k: str(v) for k, v in rows.get().facts.items()} if rows else None


def table(world: World) -> Table:
    """The first store's table as it stands."""
    return Table.objects.get(site=world.store.uid)
