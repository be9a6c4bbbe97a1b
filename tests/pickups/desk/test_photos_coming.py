"""A casing whose photo is still on the phone says so on the office's page, in words."""

from uuid import uuid4

from django.test import Client

from tests.sync.batches import push
from tests.sync.test_photos import folder, name, picture, put
from tests.world import Phone, World

__all__ = ["folder"]  # a fixture: photos of a test lie in a folder of their own


def page(office: Client, label: str) -> str:
    return office.get(f"/office/labels/{label}").content.decode()


def test_photos_that_have_not_come_are_counted_and_each_is_shown_when_it_is_there(
    office: Client, world: World, phone: Phone
) -> None:
    first, second = picture(size=(30, 20)), picture(size=(50, 20))
    label = world.a_label()
    hashes = [name(first), name(second)]
    phone.pick_up(label, world.yard.uid, uuid4(), photos=hashes)
    assert push(phone) == ["accepted"]
    assert "2 photos still to come" in page(office, label)
    assert "<img src" not in page(office, label).split("<main")[1]
    put(phone, second)
    one = page(office, label)
    assert "1 photo still to come" in one
    assert 'alt="Photos 2"' in one
    assert 'alt="Photos 1"' not in one
    put(phone, first)
    assert "still to come" not in page(office, label)
    office.post("/office/language", {"language": "es"})
    assert "por llegar" not in page(office, label)


def test_a_photo_of_what_was_left_is_awaited_beside_it(
    office: Client, world: World, phone: Phone
) -> None:
    label, pickup = world.a_label(), uuid4()
    phone.pick_up(label, world.yard.uid, pickup)
    phone.leave_here(pickup, world.yard.uid, brand="Corvane", photos=[name(picture())])
    phone.push()
    office.post("/office/language", {"language": "es"})
    assert "falta 1 foto por llegar" in page(office, label)
