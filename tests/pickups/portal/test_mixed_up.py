"""After a settled mix-up each customer reads of the casing, never of the other customer."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.custody import ownership
from pickups.kernel.clock import rfc3339
from tests.conftest import Enrol
from tests.pickups.portal.conftest import Opened, text
from tests.pickups.portal.test_story import a_photo
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

SAID: dict[str, Any] = {
    "line": "retread",
    "size": "11R22.5",
    "work": "retread",
    "basis": "own",
    "tread_design": "Ridge 40",
    "purchase_order": "PO-4711",
    "unit": "TRUCK-88",
    "wheel": "RRO",
    "odometer": 123456,
    "odometer_in": "mi",
    "pulled_for": "damage",
    "fleet_brand": "TARN-BRAND",
    "note": "gate code",
    "findings": [{"zone": "sidewall", "kind": "cut"}],
    "check": {"verdict": "leave", "because": ["too_old"], "overruled": "Ines Corvo said so"},
}
SECRET = ("Ridge 40", "PO-4711", "TRUCK-88", "RRO", "123,456", "TARN-BRAND", "Ines Corvo")


def entered(phone: Phone, yard: UUID, label: str, **told: Any) -> UUID:
    at = phone.clock() + timedelta(seconds=phone.sequence)
    payload = {"pickup": str(uuid4()), "yard": str(yard), "label": label, **told}
    op = phone.enter("custody.pick_up", payload, version=3, happened_at=rfc3339(at))
    assert phone.push().status == 200
    return UUID(op["id"])


def test_what_one_customer_said_is_not_shown_to_the_other_until_it_is_undone(
    world: World, enrol: Enrol, opened: Opened
) -> None:
    phone = enrol()
    red, blue = a_photo(phone, "red"), a_photo(phone, "blue")
    label = world.a_label()
    ours = entered(phone, world.yard.uid, label, **SAID, photos=[red])
    back = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    phone.enter("custody.deliver", {**back, "photos": [blue]})
    assert phone.push().status == 200
    theirs = entered(enrol(world.other_driver), world.other_yard.uid, world.a_label())
    mine, other = opened(), opened(world.other_customer)
    page = text(mine.get(f"/casings/{ours}"))
    assert [said for said in SECRET if said not in page] == []
    assert mine.get(f"/casings/{ours}/photos/2").status_code == 200

    change = ownership.settle(
        work_order=ours, other=theirs, reason="swapped", by=world.dispatcher.uid
    )
    page = text(other.get(f"/casings/{ours}"))
    assert [said for said in SECRET if said in page] == []
    assert "11R22.5" in page
    assert "corte" in page.lower()
    assert other.get(f"/casings/{ours}/photos/1").status_code == 404
    assert other.get(f"/casings/{ours}/photos/2").status_code == 404
    assert mine.get(f"/casings/{ours}").status_code == 404

    ownership.undo(change=change, reason="no mix-up", by=world.dispatcher.uid)
    page = text(mine.get(f"/casings/{ours}"))
    assert [said for said in SECRET if said not in page] == []
    assert WorkOrder.objects.get(uid=ours).told["note"] == "gate code"
