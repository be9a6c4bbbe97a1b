"""Who is there in every test. All names are invented."""

from dataclasses import dataclass, field

from pickups.customers import services as customers
from pickups.customers.models import Customer, Yard
from pickups.kernel import clock
from pickups.labels import queries as labels_read
from pickups.labels import services as labels
from pickups.people import services as people
from pickups.people.models import Site, User
from pickups.sync import queries as sync_read
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.dock import services as dock


@dataclass
class World:
    """The cast by name; `labels` are sound codes that were printed and not used yet."""

    plant: Site
    store: Site
    other_store: Site
    customer: Customer
    other_customer: Customer
    yard: Yard
    other_yard: Yard
    driver: User
    other_driver: User
    dispatcher: User
    operator: User
    plant_key: str
    labels: list[str] = field(default_factory=list)

    def a_label(self) -> str:
        """A printed label that no test has used."""
        return self.labels.pop()


def build(*, labels_printed: int = 30) -> World:
    """Make the cast through the services that the product uses."""
    sync_read.state()  # a test before this one may have emptied every table
    plant = people.open_site(name="Fernhollow plant", kind=Site.Kind.PLANT)
    dock.lay_out(plant=plant)
    store = people.open_site(name="Bramblewick store", kind=Site.Kind.STORE, phone="555 0100")
    other = people.open_site(name="Saltmarsh store", kind=Site.Kind.STORE, phone="555 0101")
    tarn = customers.enter(name="Tarn Valley Haulage", home_site=store)
    reed = customers.enter(name="Reedbank Gravel", home_site=other)
    customers.add_contact(
        customer=tarn, name="Ines Corvo", email="ines@tarn.example", may_sell=True
    )
    customers.add_contact(
        customer=reed, name="Abel Quist", email="abel@reed.example", language="es", may_sell=True
    )
    roll = labels.print_roll(range_symbols="K7", count=labels_printed, site=store, at=clock.now())
    _, key = people.issue_key(plant=plant, name="gateway")
    return World(
        plant=plant,
        store=store,
        other_store=other,
        customer=tarn,
        other_customer=reed,
        yard=customers.open_yard(customer=tarn, name="North yard", address="4 Quarry Lane"),
        other_yard=customers.open_yard(customer=reed, name="Pit gate"),
        driver=_person("dale", "Dale", "Orrin", User.Role.DRIVER, store),
        other_driver=_person("mira", "Mira", "Fenn", User.Role.DRIVER, other),
        dispatcher=_person("odile", "Odile", "Hart", User.Role.DISPATCHER, store),
        operator=_person("ivor", "Ivor", "Tamm", User.Role.PLANT, plant),
        plant_key=key,
        labels=labels_read.codes_of(roll),
    )


def _person(username: str, first: str, last: str, role: User.Role, site: Site) -> User:
    user = User.objects.create_user(
        username, password=None, first_name=first, last_name=last, role=role, site=site
    )
    people.publish_person(user)
    # What the journal's reaction would do a moment later.
    sync.put([Change(f"site:{site.uid}", "person", user.uid, user.version)])
    return user
