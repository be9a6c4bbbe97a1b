"""Which casings a plant may read the order of: those that are or were bound for it.

A plant's system tells of any label it likes; that alone opens nothing. What counts is what people
told: a truck's list, whoever handed it in, a tablet, the plant's own pages. Where there is one
plant alone, all that is picked up is bound for it.
"""

from collections.abc import Collection, Mapping
from uuid import UUID

from pickups.custody import queries as custody
from pickups.people import queries as people
from plant.dock import consignments


def bound(plant: UUID, orders: Mapping[UUID, Collection[str]]) -> set[UUID]:
    """Of these work orders, each with every label that names it, those bound for the plant."""
    if not orders:
        return set()
    if people.plants() == [plant]:
        return set(orders)
    told = custody.told_at(plant, {label for labels in orders.values() for label in labels})
    found = {uid for uid, labels in orders.items() if told & set(labels)}
    return found | consignments.listing(plant, set(orders) - found)
