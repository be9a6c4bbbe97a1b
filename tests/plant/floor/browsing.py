"""A browser in which somebody is signed in at a live server."""

from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, BrowserContext
from pytest_django.live_server_helper import LiveServer

from pickups.people.models import User


def opened(browser: Browser, server: LiveServer, user: User, **options: object) -> BrowserContext:
    """A context of its own; the page fails on a blocked inline part."""
    client = Client()
    client.force_login(user)
    context = browser.new_context(base_url=server.url, **options)  # type: ignore[arg-type]
    session = client.cookies[settings.SESSION_COOKIE_NAME].value
    context.add_cookies(
        [{"name": settings.SESSION_COOKIE_NAME, "value": session, "url": server.url}]
    )
    return context
