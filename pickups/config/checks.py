"""System checks over wiring.py: a table that names something missing or twice stops the start."""

import json
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, register

from pickups.config import wiring

NAME_LENGTH = 60
"""What a delivery row keeps of a reaction's name."""


def register_all() -> None:
    """Called once by the app's ready()."""
    register(wired)


def wired(app_configs: Any = None, **kwargs: Any) -> list[CheckMessage]:
    """A golden message a command, a command a payload, a name and a docstring a reaction."""
    found: list[CheckMessage] = []
    payloads: dict[type, str] = {}
    for (kind, version), command in wiring.COMMANDS.items():
        name = f"{kind} v{version}"
        if command.payload in payloads:
            other = payloads[command.payload]
            found.append(Error(f"{name} and {other} share a payload struct", id="config.E001"))
        payloads[command.payload] = name
        sample = Path(settings.BASE_DIR) / "fixtures" / "wire" / f"{kind}.v{version}.json"
        if not sample.is_file():
            found.append(Error(f"{name} has no golden message {sample.name}", id="config.E002"))
        elif json.loads(sample.read_text())["message"]["kind"] != kind:
            found.append(Error(f"{sample.name} is not a {kind}", id="config.E003"))
    for kind, reactions in wiring.REACTIONS.items():
        for name, function in reactions.items():
            if len(name) > NAME_LENGTH or not function.__doc__:
                said = f"{kind} owes {name}: a short name and a docstring are needed"
                found.append(Error(said, id="config.E004"))
    return found
