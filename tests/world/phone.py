"""The headless phone of the demo's day, as the tests use it."""

from pickups.config.demo.phone import COOKIE, Door, Phone, Reply

__all__ = ["COOKIE", "Door", "Phone", "Reply"]
