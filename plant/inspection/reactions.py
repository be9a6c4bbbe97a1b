"""What the journal of the trunk sets off here: a casing was picked up after its plant had told of
it, its labels were joined or parted, or it is somebody else's. Safe to run twice.
"""

from collections import defaultdict
from uuid import UUID

from django.db import transaction

from pickups.custody import queries as custody
from pickups.journal.models import Entry
from pickups.journal.services import TryAgain
from pickups.kernel import clock, locks
from plant.inspection import keeping
from plant.inspection.models import Work


def named(entry: Entry) -> None:
    """What plants know of these labels is folded anew, and their tablets see what is wanted."""
    labels = {str(fact["label"]) for fact in entry.body["facts"]}
    facts = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    labels |= {str(f.told["now"]) for f in facts.values() if "now" in f.told}
    swaps = custody.facts(f.corrects for f in facts.values() if f.corrects)
    labels |= {name for f in swaps.values() for name in (f.label, f.told.get("now", f.label))}
    every = custody.named_with(labels)
    with transaction.atomic():
        locks.take(locks.label_key(label) for label in every)
        if custody.named_with(labels) - every:
            raise TryAgain("labels were joined meanwhile")
        plants: dict[UUID, set[str]] = defaultdict(set)
        for plant, label in Work.objects.filter(label__in=every).values_list("plant", "label"):
            plants[plant].add(label)
        for plant, known in sorted(plants.items()):
            keeping.refold(plant=plant, labels=known | labels, at=clock.now(), anew=True)
