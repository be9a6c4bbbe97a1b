"""What phones are told of people and sites: by the journal, newest last, nobody who has left."""

import pytest
from django.test import override_settings

from pickups.journal import services as journal
from pickups.people import queries
from pickups.people import services as people
from pickups.people.models import Site, User
from pickups.sync.models import Feed
from tests.conftest import Enrol
from tests.world import Phone, World

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


def told() -> None:
    while journal.drain():
        pass


def test_a_new_site_reaches_all_phones_and_its_people_its_own_only(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    site = people.open_site(name="Thornby store", kind=Site.Kind.STORE)
    user = User.objects.create_user("tove", first_name="Tove", last_name="Lund", site=site)
    people.publish_person(user)
    told()
    there = enrol(user)
    for each in (phone, there):
        each.pull_all()
    assert there.seen("site")[str(site.uid)]["name"] == "Thornby store"
    assert there.seen("person")[str(user.uid)] == {"name": "Tove Lund", "role": "driver"}
    assert str(user.uid) not in phone.seen("person")
    assert phone.seen("site")[str(site.uid)]["kind"] == "store"
    assert set(there.seen("site")) == set(phone.seen("site"))


def test_every_change_of_a_person_has_a_greater_version(world: World, phone: Phone) -> None:
    """The phone keeps the greater version: an equal one would be passed over."""
    told()
    user = world.driver
    versions = []
    for name in ("Dal", "Dale", "Daly"):
        user.first_name = name
        user.save()
        people.publish_person(user)
        told()
        versions.append(Feed.objects.get(entity="person", uid=user.uid).version)
    assert versions == sorted(set(versions))
    phone.pull_all()
    assert phone.seen("person")[str(user.uid)]["name"] == "Daly Orrin"


def test_a_person_who_left_is_gone_from_the_phones(world: World, phone: Phone) -> None:
    told()
    phone.pull_all()
    assert str(world.driver.uid) in phone.seen("person")
    User.objects.filter(pk=world.driver.pk).update(is_active=False)
    world.driver.refresh_from_db()
    people.publish_person(world.driver)
    told()
    phone.pull_all()
    assert str(world.driver.uid) not in phone.seen("person")


def test_a_person_who_moves_to_another_store_leaves_the_old_ones_phones(
    world: World, phone: Phone
) -> None:
    told()
    phone.pull_all()
    world.driver.site = world.other_store
    world.driver.save()
    people.publish_person(world.driver, left=world.store.uid)
    told()
    phone.pull_all()
    assert str(world.driver.uid) not in phone.seen("person")
    gone = Feed.objects.filter(entity="person", uid=world.driver.uid)
    assert set(gone.values_list("scope", "gone")) == {
        (f"site:{world.store.uid}", True),
        (f"site:{world.other_store.uid}", False),
    }


def test_a_site_with_another_number_is_told_to_its_phones(world: World, phone: Phone) -> None:
    world.store.phone = "555 0199"
    world.store.save()
    people.publish_site(world.store)
    told()
    phone.pull_all()
    assert phone.seen("site")[str(world.store.uid)]["phone"] == "555 0199"


@override_settings(DEALER_CURRENCY="CAD")
def test_every_site_tells_the_dealers_currency(world: World, phone: Phone) -> None:
    told()
    phone.pull_all()
    assert {site["currency"] for site in phone.seen("site").values()} == {"CAD"}


@override_settings(DEALER_TIME_ZONE="America/Halifax")
def test_every_site_tells_the_zone_whose_days_count(world: World, phone: Phone) -> None:
    told()
    phone.pull_all()
    assert {site["time_zone"] for site in phone.seen("site").values()} == {"America/Halifax"}


def test_telling_the_same_again_changes_nothing(world: World, phone: Phone) -> None:
    told()
    phone.pull_all()
    before = dict(phone.rows)
    from pickups.journal.models import Entry
    from pickups.sync import services as sync

    for entry in Entry.objects.filter(kind__in=["person.changed", "site.changed"]):
        sync.publish(entry)
    phone.pull_all()
    assert phone.rows == before


def test_unknown_people_are_those_who_are_nobody_here(world: World) -> None:
    known, stranger = world.driver.uid, world.customer.uid
    assert queries.unknown_people([known, stranger]) == {stranger}
