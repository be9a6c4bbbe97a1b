"""What a plant wants of tread designs: entered from a maker's sheet, taken out again, and told to
the plant's devices. What stood before stays in its history; nothing is wanted by itself."""

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from django.db import transaction

from pickups.people.models import User
from plant.dock.models import TreadTarget
from plant.dock.rules import FIGURES
from plant.dock.services import lock_route, publish_targets


def enter_target(
    *,
    plant: UUID,
    tread_design: str,
    size: str,
    figures: Mapping[str, float],
    sheet: str,
    by: User,
    at: datetime,
) -> TreadTarget:
    """What is wanted of a design in a size (empty: in every one), in place of what stood there
    under the same name, whatever its capitals. A figure of rules.FIGURES that is left out is not
    entered."""
    with transaction.atomic():
        lock_route(plant)
        known = TreadTarget.objects.filter(
            plant=plant, tread_design__iexact=tread_design, size=size
        ).first()
        row = known or TreadTarget(plant_id=plant, size=size)
        row.tread_design, row.sheet = tread_design, sheet
        row.entered_by, row.entered_at = by, at
        for figure in FIGURES:
            setattr(row, figure, figures.get(figure))
        row.save()
        publish_targets(plant)
    return row


def take_target_back(*, plant: UUID, target: int) -> bool:
    """It is wanted no longer; False where the plant has none of this number."""
    with transaction.atomic():
        lock_route(plant)
        row = TreadTarget.objects.filter(plant=plant, pk=target).first()
        if row is None:
            return False
        row.delete()
        publish_targets(plant)
    return True
