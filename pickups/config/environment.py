"""Reads environment variables, and stops the start with a sentence when one is wrong.

Each reader names the variable, what it held and what it may hold. An empty variable counts as
unset. Nothing here knows what a variable is for: settings.py does.
"""

import os

from django.core.exceptions import ImproperlyConfigured

YES = frozenset({"1", "true", "yes", "on"})
NO = frozenset({"0", "false", "no", "off"})


def given(name: str) -> bool:
    """True when the variable holds anything at all."""
    return bool(os.environ.get(name, "").strip())


def text(name: str, default: str) -> str:
    return os.environ.get(name, "").strip() or default


def flag(name: str, default: bool) -> bool:
    value = text(name, "yes" if default else "no").lower()
    if value not in YES | NO:
        raise ImproperlyConfigured(f"{name} is {value!r}; allowed are yes and no.")
    return value in YES


def number(name: str, default: int, *, least: int = 0, most: int = 2**31 - 1) -> int:
    value = text(name, str(default))
    if not (value.isascii() and value.isdigit() and least <= int(value) <= most):
        raise ImproperlyConfigured(
            f"{name} is {value!r}; allowed are whole numbers from {least} to {most}."
        )
    return int(value)


def listed(name: str, default: list[str]) -> list[str]:
    """A list written with commas between its entries."""
    if not given(name):
        return default
    return [part for part in (one.strip() for one in os.environ[name].split(",")) if part]
