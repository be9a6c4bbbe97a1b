"""Reads of casings and work orders."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db import connection
from django.db.models import F, Func, Q, QuerySet, TextField, Value
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Upper

from pickups.casings.models import Casing, WorkOrder
from pickups.casings.rules import DONE, Progress
from pickups.kernel.bulk import array
from pickups.kernel.clock import rfc3339
from pickups.people import queries as people


def locked(*, labels: Iterable[str], uids: Iterable[UUID]) -> list[WorkOrder]:
    """Work orders under these labels or with these ids, locked by id for the transaction."""
    rows = WorkOrder.objects.raw(
        "SELECT * FROM casings_work_order WHERE label = ANY(%s) OR uid = ANY(%s::uuid[])"
        " ORDER BY uid FOR NO KEY UPDATE",
        [list(labels), array(uids)],
    )
    return list(rows)


def of_pickup(pickup: UUID) -> list[WorkOrder]:
    """The work orders that began in a pickup, in the order entered."""
    rows = WorkOrder.objects.select_related("casing").filter(pickup=pickup)
    return list(rows.order_by("picked_up_at", "uid"))


def work_order(uid: UUID) -> WorkOrder | None:
    """One work order, if it is there."""
    return WorkOrder.objects.filter(uid=uid).first()


def work_orders(uids: Iterable[UUID]) -> dict[UUID, WorkOrder]:
    """These work orders, by their uid."""
    rows = WorkOrder.objects.select_related("casing").filter(uid__in=list(uids))
    return {w.uid: w for w in rows}


def under(labels: Iterable[str]) -> list[WorkOrder]:
    """The work orders that wear one of these labels or wore it when they were withdrawn, oldest
    first."""
    return list(WorkOrder.objects.filter(label__in=list(labels)).order_by("picked_up_at", "uid"))


def wearing(labels: Iterable[str]) -> dict[UUID, WorkOrder]:
    """The work orders that wear these labels or wore them when they were withdrawn."""
    rows = WorkOrder.objects.select_related("casing").filter(label__in=list(labels))
    return {w.uid: w for w in rows}


def worn(labels: Iterable[str]) -> set[str]:
    """Which of these labels are or were on a casing."""
    rows = WorkOrder.objects.filter(label__in=list(labels), withdrawn=False)
    return set(rows.values_list("label", flat=True))


def of_casings(casings: Iterable[UUID]) -> list[WorkOrder]:
    """Every trip of these casings, oldest first."""
    rows = WorkOrder.objects.filter(casing__in=list(casings))
    return list(rows.order_by("picked_up_at", "uid"))


def owned_otherwise(casings: Iterable[UUID]) -> list[Casing]:
    """Those of these casings of which a fact of ownership says something else than their pick_up:
    from which yard they came, or that they are the dealer's."""
    if not (uids := list(casings)):
        return []
    either = Q(yard__isnull=False) | ~Q(dealers="")
    return list(Casing.objects.filter(either, uid__in=uids))


def of_customer(customer: UUID) -> QuerySet[WorkOrder]:
    """What a customer may hear of: what is theirs and what they sold or gave in exchange (see
    `Casing.dealers`), none contested, none withdrawn; newest first."""
    own = WorkOrder.objects.filter(customer=customer, contested=False, withdrawn=False)
    return own.select_related("casing").order_by("-picked_up_at", "uid")


def going_home(site: UUID) -> list[WorkOrder]:
    """What a store's customers have to get back and have not: finished, rejected, or left the
    plant; not what the dealer has bought, none contested, none withdrawn; oldest first."""
    done = (Progress.FINISHED, Progress.REJECTED, Progress.SHIPPED)
    own = WorkOrder.objects.filter(site=site, progress__in=done, contested=False, withdrawn=False)
    return list(own.filter(casing__dealers="").order_by("picked_up_at", "uid"))


def promised(site: UUID) -> list[WorkOrder]:
    """What a store's customers have not got back and were promised for a day when it was handed
    over; not what the dealer has bought, none contested, none withdrawn; oldest first."""
    own = WorkOrder.objects.filter(site=site, contested=False, withdrawn=False, casing__dealers="")
    rows = own.exclude(progress=Progress.RETURNED).filter(told__promised__isnull=False)
    return list(rows.select_related("casing").order_by("picked_up_at", "uid"))


def waiting_at_stores(site: UUID) -> list[WorkOrder]:
    """What a store's customers gave and lies on a store's rack, not yet at the plant; oldest
    first."""
    own = WorkOrder.objects.filter(site=site, progress=Progress.PICKED_UP, withdrawn=False)
    rows = own.filter(contested=False, holder__startswith="site:")
    return list(rows.order_by("picked_up_at", "uid"))


def in_stock(site: UUID) -> list[WorkOrder]:
    """Finished casings of the dealer's own that lie at a store: bought, had in exchange, or given
    to be retreaded for the dealer; none contested, none withdrawn."""
    done = (Progress.FINISHED, Progress.SHIPPED)
    rows = WorkOrder.objects.filter(holder=f"site:{site}", progress__in=done, on_hold=False)
    own = rows.filter(~Q(casing__dealers="") | Q(told__basis="dealer"))
    return list(own.filter(contested=False, withdrawn=False).order_by("picked_up_at", "uid"))


def held_by(holder: str) -> list[WorkOrder]:
    """Everything that a holder has, whoever's it is; contested too, withdrawn not; oldest first."""
    rows = WorkOrder.objects.select_related("casing").filter(holder=holder, withdrawn=False)
    rows = rows.exclude(progress=Progress.RETURNED)  # that is its owner's, whoever told it last
    return list(rows.order_by("picked_up_at", "uid"))


def is_fetched(w: WorkOrder) -> bool:
    """Whether it is done with and its owner, who is known for certain, comes for it to a store;
    the rest goes home by truck. A casing that the dealer bought waits for nobody."""
    certain = not (w.withdrawn or w.contested or w.casing.dealers)
    return certain and w.progress in DONE and w.told.get("back_to") == "store"


def picked_up_at(yards: Iterable[UUID], *, since: datetime, until: datetime) -> list[WorkOrder]:
    """What was picked up at these yards in a span of time, withdrawn not."""
    rows = WorkOrder.objects.filter(yard__in=list(yards), withdrawn=False)
    return list(rows.filter(picked_up_at__gte=since, picked_up_at__lt=until))


def picked_up(
    *, customer: UUID | None, since: datetime | None, until: datetime | None, progress: str
) -> Iterable[WorkOrder]:
    """Every work order but those withdrawn, in the order picked up; of one customer, in a span of
    time, as far as `progress`, where asked. Read in portions: a long history is never all in
    memory."""
    rows = WorkOrder.objects.select_related("casing").filter(withdrawn=False)
    rows = rows.filter(customer=customer) if customer else rows
    rows = rows.filter(picked_up_at__gte=since) if since else rows
    rows = rows.filter(picked_up_at__lt=until) if until else rows
    rows = rows.filter(progress=progress) if progress else rows
    return rows.order_by("picked_up_at", "uid").iterator(chunk_size=500)


def to_be_retreaded(uids: Iterable[UUID]) -> list[WorkOrder]:
    """Of these work orders those of a fleet's casing that was to be retreaded and about which a
    plant has decided; none contested, none withdrawn. What was only to be repaired, sold or claimed
    is not there."""
    done = (Progress.FINISHED, Progress.REJECTED, Progress.SHIPPED, Progress.RETURNED)
    rows = WorkOrder.objects.filter(uid__in=list(uids), progress__in=done)
    rows = rows.filter(contested=False, withdrawn=False).exclude(customer=None)
    return [
        w
        for w in rows.order_by("picked_up_at", "uid")
        if (w.told.get("line") or "retread", w.told.get("work") or "retread") == ("retread",) * 2
    ]


def with_text(orders: QuerySet[WorkOrder], *, label: str, tin: str) -> QuerySet[WorkOrder]:
    """Those whose label or TIN holds a text, capitals without gaps; an empty one is not sought."""
    bare = Func(
        Upper(KeyTextTransform("tin", F("told"))),
        Value("[^A-Z0-9]"),
        Value(""),
        Value("g"),
        function="regexp_replace",
        output_field=TextField(),
    )
    fits = Q(pk__in=[])
    if label:
        fits |= Q(label__contains=label) | Q(told__void_labels__icontains=label)
    fits |= Q(bare_tin__contains=tin) if tin else Q()
    return orders.alias(bare_tin=bare).filter(fits)


def with_tin(tin: str, *, most: int) -> list[WorkOrder]:
    """The trips of casings that were told with this TIN, the newest first; one TIN is on many."""
    rows = WorkOrder.objects.filter(casing__tin=tin, withdrawn=False)
    return list(rows.order_by("-picked_up_at", "uid")[:most])


_BODIES = """
SELECT w.uid, w.told, w.label, w.pickup::text, w.yard::text, w.customer::text, c.dealers,
       w.progress, w.station, w.reason, w.on_hold, w.contested, w.withdrawn, w.holder,
       w.picked_up_at
FROM casings_work_order w JOIN casings_casing c ON c.uid = w.casing_id WHERE w.uid = ANY(%s)
"""
_COLUMNS = ("label", "pickup", "yard", "customer", "dealers", "progress", "station", "reason",
            "on_hold", "contested", "withdrawn", "holder")  # fmt: skip
_TOLD: dict[str, Any] = {
    **dict.fromkeys(("tin", "size", "line", "rating", "brand", "position", "wheel", "odometer_in",
                     "pulled_for", "fleet_brand", "complaint", "rim", "work", "basis",
                     "tread_design", "purchase_order", "unit", "back_to", "dual_with", "note"),
                    ""),
    **dict.fromkeys(("odometer", "check", "sale", "store", "promised", "here_since")),
    **{name: [] for name in ("void_labels", "tread_32nds", "tins", "treads_32nds", "findings",
                             "reminders", "photos")},
    "valve_out": False,
}  # fmt: skip
"""What a body says of what was told, with what stands where nothing was."""
_told = msgspec.json.Decoder(dict[str, Any]).decode


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Work orders as the feed gives them to a phone. Read as plain columns: a phone that begins
    anew fetches thousands."""
    with connection.cursor() as c:
        c.execute(_BODIES, [list(uids)])
        rows = [(uid, _told(told), columns) for uid, told, *columns in c.fetchall()]
    steps = [one for _, told, _ in rows for one in told.get("reminders", ())]
    said = people.words(UUID(one["words"]) for one in steps if "words" in one)
    return {uid: _body(told, columns, said) for uid, told, columns in rows}


def _body(
    told: Mapping[str, Any], columns: Sequence[Any], said: Mapping[UUID, str]
) -> dict[str, Any]:
    body = _TOLD | {name: told[name] for name in told.keys() & _TOLD.keys()}
    body |= zip(_COLUMNS, columns, strict=False)
    body["picked_up_under"] = told.get("picked_up_under") or body["label"]
    body["picked_up_at"] = rfc3339(columns[-1])
    if body["reminders"]:
        body["reminders"] = [_reminder(one, said) for one in body["reminders"]]
    return body


def _reminder(step: Mapping[str, Any], said: Mapping[UUID, str]) -> dict[str, Any]:
    """A step with what was said, as far as it was not erased."""
    shown = {key: value for key, value in step.items() if key != "words"}
    text = said.get(UUID(step["words"])) if "words" in step else None
    return shown | ({"said": text} if text else {})
