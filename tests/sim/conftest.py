"""The journeys' way to a product and a browser, for the runs in Chromium."""

from tests.journeys.conftest import open_app, stack, web

__all__ = ["open_app", "stack", "web"]
