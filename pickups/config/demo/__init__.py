"""The demo: an invented dealer with three weeks behind it, told through the product's own doors.

Its data stand in fixtures/demo. Sites, people and fleets are entered by services, what happened
by the commands of a phone and the events of a plant, with times in the past. Loaded once, in one
transaction, and only on the database that the supervisor starts.
"""

import json
from typing import Any

from django.conf import settings

FOLDER = settings.BASE_DIR / "fixtures" / "demo"


def data(name: str) -> Any:
    """One of the demo's files."""
    return json.loads((FOLDER / f"{name}.json").read_text())
