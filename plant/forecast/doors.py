"""What the plant's pages may use of the forecast beside its queries. Nothing else of this app is
imported elsewhere; nothing is done here."""

from plant.forecast import supposing, trying
from plant.forecast.calibration import LEAST
from plant.forecast.laid_out import WAIT_H
from plant.forecast.making import SAID
from plant.forecast.models import Supposed
from plant.forecast.simulating import COURSES

State = Supposed.State

__all__ = ["COURSES", "LEAST", "SAID", "WAIT_H", "State", "supposing", "trying"]
