"""Hand-overs in words: from where, to where, who of theirs signed; never who of ours."""

from uuid import UUID

from django.conf import settings

from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.handing import HandOver
from pickups.portal import words
from pickups.portal.queries.beside import Beside
from pickups.portal.queries.record import Told


def handed(h: HandOver, told: Told, around: Beside) -> str:
    """A hand-over in words: from where, to where; never who of ours."""
    order, kind = told.order, h.taker.partition(":")[0]
    if any(w.kind is Kind.PICKED_UP for w in h.witnesses):
        key = "fact_dropped_off" if order.told.get("store") else "fact_picked_up"
    elif any(w.kind is Kind.RETURNED for w in h.witnesses):
        key = _given_back(h, told)
    elif kind in ("site", "plant"):
        key = "fact_unloaded" if kind == "site" else "fact_received"
    elif goes_to_owner(h, order):
        key = "fact_out"
    else:
        key = "fact_shipped" if h.giver.partition(":")[0] in ("site", "plant") else "fact_loaded"
    place = h.giver if key in ("fact_shipped", "fact_out") else h.taker
    if key == "fact_fetched":
        place = f"site:{h.witnesses[0].told['store']}"
    return words.say(around.language, key, yard=around.yard(order), place=around.place(place))


def _given_back(h: HandOver, told: Told) -> str:
    """Handed to its owner, at a counter or in the yard; or to nobody that we know of."""
    if h.taker != told.owner:
        return "fact_returned_elsewhere"
    said = h.witnesses[0].told
    if said.get("store"):
        return "fact_fetched"
    return "fact_returned" if said.get("yard") == str(told.order.yard) else "fact_returned_to_you"


def signed(told: Told, language: str) -> dict[UUID, list[str]]:
    """Who of the customer's signed where it changed hands, by the fact that tells of it."""
    visits = {told.order.uid: told.order.pickup}
    for uid, h in told.handed.items():
        deliveries = [w.told["delivery"] for w in h.witnesses if "delivery" in w.told]
        visits |= {uid: UUID(deliveries[0])} if deliveries else {}
    found = custody.signed(visits.values())
    sayer = Sayer(language, settings.DEALER_CURRENCY)

    def why(s: custody.Signed) -> str:
        return sayer.unsigned(nobody_there=s.nobody_there, refused=s.refused, unsigned=s.unsigned)

    return {
        uid: [words.signed(language, s.name, drawn=s.drawn, unsigned=why(s))]
        for uid, visit in visits.items()
        # A visit of another customer's is nobody's to hear of, whatever it holds.
        if (s := found.get(visit)) and s.customer == told.order.customer
        if s.name or s.drawn or why(s)
    }


def goes_to_owner(h: HandOver, order: WorkOrder) -> bool:
    """A driver took it where its last way starts from."""
    starts = h.giver.partition(":")[2] == str(order.site)
    return h.way == "out" and starts and h.taker.startswith("person:")
