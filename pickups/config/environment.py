"""Reads environment variables, and stops the start with a sentence when one is wrong.

Each reader names the variable, what it held and what it may hold. An empty variable counts as
unset. Nothing here knows what a variable is for: settings.py does.
"""

import importlib.util
import json
import os
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

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


def rsa_jwk(name: str) -> str:
    """A private RSA key as a JWK in JSON (RFC 7517); empty when unset. Never says what it held."""
    held = text(name, "")
    if not held:
        return ""
    try:
        key = json.loads(held)
    except ValueError:
        key = None
    if not isinstance(key, dict) or key.get("kty") != "RSA" or not {"n", "e", "d"} <= key.keys():
        raise ImproperlyConfigured(
            f'{name} is no private RSA key; allowed is a JWK in JSON: {{"kty": "RSA", "n": …}}.'
        )
    return held


def object_store(name: str) -> dict[str, Any] | None:
    """An S3-compatible store as Django's STORAGES wants it; None when unset.

    s3://KEY:SECRET@HOST/BUCKET, where HOST is a region or, with ?endpoint=URL, any name. A key or
    secret with a sign of an address in it is written percent-encoded. Never says what it held.
    """
    held = text(name, "")
    if not held:
        return None
    parts = urlsplit(held)
    bucket, endpoint = parts.path.strip("/"), parse_qs(parts.query).get("endpoint", [""])[0]
    whole = parts.username and parts.password and parts.hostname and bucket and "/" not in bucket
    if parts.scheme != "s3" or not whole:
        raise ImproperlyConfigured(
            f"{name} is no store of objects; allowed is s3://KEY:SECRET@REGION/BUCKET,"
            " perhaps with ?endpoint=https://… behind it."
        )
    if endpoint and urlsplit(endpoint).scheme not in {"http", "https"}:
        raise ImproperlyConfigured(f"{name}: endpoint= is an address that begins with https://.")
    if importlib.util.find_spec("storages") is None or importlib.util.find_spec("boto3") is None:
        raise ImproperlyConfigured(f"{name} needs the package django-storages[s3].")
    options = {
        "access_key": unquote(parts.username or ""),
        "secret_key": unquote(parts.password or ""),
        "bucket_name": bucket,
        "region_name": parts.hostname,
        "endpoint_url": endpoint or None,
        # A photo sent again is written over itself; none is ever read by an address of its own.
        "file_overwrite": True,
        "querystring_auth": True,
        "default_acl": None,
        **({"addressing_style": "path"} if endpoint else {}),
    }
    return {"BACKEND": "storages.backends.s3.S3Storage", "OPTIONS": options}
