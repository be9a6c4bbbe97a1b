"""Where nobody was there: the customer sees the pile before and after; a trailer until its list."""

from uuid import UUID, uuid4

import pytest

from tests.pickups.portal.conftest import Opened, text
from tests.pickups.portal.test_story import a_photo
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


def ended(phone: Phone, world: World, **more: object) -> UUID:
    """A pickup of one casing that is over."""
    pickup = uuid4()
    casing = phone.pick_up(world.a_label(), world.yard.uid, pickup)["id"]
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "casings": [casing]}
    phone.enter("custody.finish_pickup", payload | more, version=4)
    assert phone.push().status == 200
    return pickup


def test_the_pile_before_and_after_is_its_owners_to_see(
    world: World, phone: Phone, opened: Opened
) -> None:
    before, between, after = (a_photo(phone, colour) for colour in ("#a00", "#0a0", "#00a"))
    pickup = ended(phone, world, nobody_there=True, photos=[before, between, after])
    page = opened(world.customer).get(f"/casings/receipts/{pickup}")
    said = text(page)
    assert said.index("Before, as the driver found it") < said.index("Photo 2")
    assert said.index("Photo 2") < said.index("After, as the driver left it")
    for number, status in ((0, 404), (1, 200), (3, 200), (4, 404)):
        address = f"/casings/receipts/{pickup}/photos/{number}"
        assert opened(world.customer).get(address).status_code == status
        assert opened(world.other_customer).get(address).status_code == 404


def test_photos_of_a_visit_with_somebody_there_stay_with_us(
    world: World, phone: Phone, opened: Opened
) -> None:
    pickup = ended(phone, world, photos=[a_photo(phone, "#a00")])
    browser = opened(world.customer)
    assert "as the driver found it" not in text(browser.get(f"/casings/receipts/{pickup}"))
    assert browser.get(f"/casings/receipts/{pickup}/photos/1").status_code == 404


def test_a_photo_that_has_not_come_is_not_spoken_of(
    world: World, phone: Phone, opened: Opened
) -> None:
    pickup = ended(phone, world, nobody_there=True, photos=[a_photo(phone, "#a00"), "f" * 64])
    said = text(opened(world.customer).get(f"/casings/receipts/{pickup}"))
    assert "Before, as the driver found it" in said
    assert "After, as the driver left it" not in said


def test_a_shut_trailer_is_said_until_it_is_emptied(
    world: World, phone: Phone, opened: Opened
) -> None:
    pickup = uuid4()
    at = {"pickup": str(pickup), "yard": str(world.yard.uid)}
    trailer = {"number": "TW-118", "seal": "0047112"}
    phone.enter("custody.finish_pickup", at | {"trailer": trailer}, version=4)
    phone.push()
    browser = opened(world.customer)
    said = text(browser.get(f"/casings/receipts/{pickup}"))
    assert "Trailer TW-118" in said
    assert "Its seal: 0047112." in said
    assert browser.get(f"/casings/receipts/{pickup}.pdf").status_code == 200
    casing = phone.pick_up(world.a_label(), world.yard.uid, pickup)["id"]
    phone.enter("custody.empty_trailer", at | {"casings": [casing]})
    phone.push()
    said = text(browser.get(f"/casings/receipts/{pickup}"))
    assert "From trailer TW-118, taken closed; opened and emptied" in said
