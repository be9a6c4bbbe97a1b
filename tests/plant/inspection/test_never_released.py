"""What may never be released is one list: the server's, and the one that takes the key away."""

import re

from pickups.config import places
from plant.inspection.rules import NEVER_RELEASED


def test_a_tablet_and_the_server_never_release_for_the_same_reasons() -> None:
    source = (places.PROJECT / "frontend" / "src" / "plant" / "reasons.ts").read_text()
    said = re.search(r"NEVER_RELEASED[^=]*= new Set\(\[(.*?)\]\)", source, re.DOTALL)
    assert said is not None
    assert set(re.findall(r'"([A-Z_]+)"', said.group(1))) == NEVER_RELEASED
