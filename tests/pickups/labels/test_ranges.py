"""Which labels are the dealer's: told to the devices of every site, of one that is new as well."""

from uuid import uuid4

import pytest

from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.labels import services as labels
from pickups.people import services as people
from pickups.people.models import Site, User
from tests.conftest import Enrol
from tests.world import World

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


def test_a_new_site_hears_which_labels_are_the_dealers(world: World, enrol: Enrol) -> None:
    roll = labels.print_for(site=world.store, count=1, at=clock.now(), uid=uuid4())
    site = people.open_site(name="Thornby store", kind=Site.Kind.STORE)
    user = User.objects.create_user("tove", site=site)
    while journal.drain():
        pass
    there = enrol(user)
    there.pull_all()
    assert roll.range in there.seen("label_range")[str(site.uid)]["ranges"]
