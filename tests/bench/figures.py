"""Figures of one run: ours, the peer's, the ratio, with versions; kept in .var/bench.json."""

import json
import os
import platform
from importlib.metadata import version
from pathlib import Path
from typing import Any

from pickups.config.places import PROJECT

FILE = Path(os.environ.get("BENCH_FILE", PROJECT / ".var" / "bench.json"))


def note(what: str, **figures: Any) -> None:
    """Print one line and keep it."""
    FILE.parent.mkdir(parents=True, exist_ok=True)
    known = json.loads(FILE.read_text()) if FILE.exists() else {}
    known["machine"] = {
        "cores": os.cpu_count(),
        "python": platform.python_version(),
        "django": version("django"),
        "psycopg": version("psycopg"),
        "msgspec": version("msgspec"),
        "granian": version("granian"),
    }
    known[what] = figures
    FILE.write_text(json.dumps(known, indent=2) + "\n")
    said = ", ".join(f"{name} {_short(value)}" for name, value in figures.items())
    print(f"\n  {what}: {said}")


def _short(value: Any) -> str:
    return (
        f"{value:,.3g}"
        if isinstance(value, float) and value < 100
        else (f"{value:,.0f}" if isinstance(value, float) else str(value))
    )
