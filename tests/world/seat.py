"""Seats the cast in the database of DATABASE_URL, from a process of its own (see stack.py)."""

import json

from pickups.people import services as people
from pickups.people.models import Site, User
from tests.world.cast import build


def seat(labels: int) -> None:
    """Build the cast and print who is who as one line of JSON."""
    world = build(labels_printed=labels)
    said = {
        "plant": world.plant.uid,
        "store": world.store.uid,
        "other_store": world.other_store.uid,
        "yard": world.yard.uid,
        "customer": world.customer.uid,
        "driver": world.driver.uid,
        "driver_name": world.driver,
        "other_driver": world.other_driver.uid,
        "plant_key": world.plant_key,
        "labels": world.labels,
    }
    print(json.dumps(said, default=str))


def show_code(site: str) -> None:
    """Print a fresh enrolment code for a site."""
    made_by = User.objects.earliest("pk")
    print(people.show_code(site=Site.objects.get(uid=site), made_by=made_by))
