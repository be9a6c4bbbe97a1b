"""How long who signed and who accepted are kept: their names and drawings, never the facts.

Opens no transaction. KEPT_DAYS says how long.
"""

from collections.abc import Callable
from datetime import datetime, timedelta

from django.conf import settings

from pickups.custody.models import Acceptance, Delivery, OwnerChange, Pickup, Signature
from pickups.sync import photos

AT_ONCE = 500


def purge(*, at: datetime) -> dict[str, int]:
    """What is older than it is kept is erased: how many of each kind."""
    kinds: dict[str, Callable[[datetime], int]] = {
        "signature": _signatures,
        "acceptance": _acceptances,
    }
    days = settings.KEPT_DAYS
    return {kind: erase(at - timedelta(days=days[kind])) for kind, erase in kinds.items()}


def _signatures(before: datetime) -> int:
    """Of visits that were recorded before: the name goes with the drawing."""
    erased = 0
    for over in (Pickup.objects, Delivery.objects):
        old = over.filter(recorded_at__lt=before, uid__in=Signature.objects.values("visit"))
        while visits := list(old.values_list("uid", flat=True)[:AT_ONCE]):
            rows = Signature.objects.filter(visit__in=visits)
            # The drawing first: cut off before the row is gone, it is tried again.
            photos.forget(image for image in rows.values_list("image", flat=True) if image)
            erased += rows.delete()[0]
    return erased


def _acceptances(before: datetime) -> int:
    old = OwnerChange.objects.filter(recorded_at__lt=before).values("uid")
    return Acceptance.objects.filter(change__in=old).delete()[0]
