"""`make sim`: schedules of faults against the real server, resumable by seed.

From the environment (make passes them on): SCHEDULES and MINUTES bound a campaign, FIRST is its
first seed, AT_ONCE says how many are played side by side (as many as processors); SEED plays that
one alone, finished or not; REPLAY plays a file that a failing schedule left; PHONES and OPERATIONS
(a phone) say how large each is; FOLDER is where it is kept.
"""

import json
import os
import signal
import sys
import tempfile
from pathlib import Path

import django

from pickups.config.places import PROJECT

# Settings only, to read our own modules: every server of the simulation has a folder of its own.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")
OWN = tempfile.TemporaryDirectory(prefix="yardloop-sim-")
os.environ["YARDLOOP_VAR"] = OWN.name
django.setup()

from tests.sim import phones, plan  # noqa: E402
from tests.sim.campaign import Campaign, table  # noqa: E402
from tests.sim.draft import Step  # noqa: E402
from tests.sim.playing import Stage, sentence  # noqa: E402


def number(name: str, usual: float) -> float:
    """A figure from the environment."""
    return float(os.environ.get(name) or usual)


def main() -> int:
    """0 where all held."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("ended"))  # servers are ended on the way out
    phones.build()
    size = plan.Size(phones=int(number("PHONES", 8)), operations=int(number("OPERATIONS", 200)))
    if os.environ.get("REPLAY"):
        return _once(json.loads(Path(os.environ["REPLAY"]).read_text()))
    if os.environ.get("SEED"):
        seed = int(os.environ["SEED"])
        print(f"seed {seed}", flush=True)
        return _once(plan.schedule(seed, size))
    folder = Path(os.environ.get("FOLDER") or PROJECT / ".var" / "sim")
    campaign = Campaign(
        folder,
        size,
        first=int(number("FIRST", 1)),
        schedules=int(number("SCHEDULES", 10)),
        minutes=number("MINUTES", 24 * 60),
        at_once=int(number("AT_ONCE", os.cpu_count() or 1)),
    )
    made = campaign.run()
    print(table(made))
    print(f"  {folder.parent / 'sim.json'}")
    return 1 if made["failed_seeds"] or made["never_told"] else 0


def _once(steps: list[Step]) -> int:
    stage = Stage()
    try:
        outcome = stage.play(steps)
    finally:
        stage.end()
    print(sentence(outcome))
    for finding in outcome.found:
        print(f"   {finding}")
    return 1 if outcome.found else 0


if __name__ == "__main__":
    sys.exit(main())
