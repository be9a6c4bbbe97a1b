"""What other apps may use of notices beside its services and queries. Nothing else of this app is
imported elsewhere; nothing is done here."""

from pickups.notices import stopping
from pickups.notices.models import StopUseStep

Step = StopUseStep.Kind

__all__ = ["Step", "stopping"]
