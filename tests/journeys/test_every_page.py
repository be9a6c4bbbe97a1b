"""Every page of the office and of a customer, by the table of all addresses: no barrier in either
language, either light, at a phone's and at a desk's width.

An address without a row in that table fails there (tests/house/test_matrix.py), so a new page is
looked at here without being named.
"""

from collections.abc import Iterator
from contextvars import copy_context
from urllib.parse import urlsplit

import pytest
from django.http import HttpResponse
from django.test import Client
from playwright.sync_api import Browser, Page, Playwright, Route

from tests.house.test_matrix import GUESTS, ROWS, Setting, ask, guest, house
from tests.journeys.barriers import CONTRAST, DESK, GEOMETRY, LIGHTS, PHONE, WIDER, axe, sized

__all__ = ["house"]  # a fixture: what every address is about

ORIGIN = "http://localhost"
APART = ("^app/", "healthz", "readyz", "api/", "favicon.ico")
"""The phone's app is walked in test_every_screen_*; the others are no pages."""
LEAST_PX = 44
"""WCAG 2.2, 2.5.5: the office works with a mouse and now and then with a finger."""


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


def body_of(answer: HttpResponse) -> bytes:
    return b"".join(answer) if answer.streaming else answer.content


def shown_by(browser: Browser, client: Client) -> Page:
    """A page that gets everything from this client, in this process and its transaction.

    The browser asks from a context of its own, in which Django would open another connection and
    find nobody signed in.
    """
    here = copy_context()

    def serve(route: Route) -> None:
        at = urlsplit(route.request.url)
        asked = f"{at.path}?{at.query}" if at.query else at.path
        answer = here.run(ask, client, "GET", asked, follow=True)
        headers = {name: value for name, value in answer.headers.items() if name != "Set-Cookie"}
        route.fulfill(status=answer.status_code, headers=headers, body=body_of(answer))

    page = browser.new_context().new_page()
    page.route("**/*", serve)
    return page


def pages(house: Setting, client: Client, rows: list[str]) -> list[str]:
    """The addresses of these rows that answer with a page, not with a file or another address."""
    addresses = [house.address(row.partition(" ")[2]) for row in rows]
    answers = [(at, ask(client, "GET", at)) for at in addresses]
    return [
        at
        for at, answer in answers
        if answer.status_code // 100 != 3
        and answer.headers.get("Content-Type", "").startswith("text/html")
    ]


def speak(client: Client, language: str) -> None:
    """As the person chose it, and as the browser asks for where nobody has chosen."""
    assert client.post("/office/language", {"language": language}).status_code == 302
    client.defaults["HTTP_ACCEPT_LANGUAGE"] = language


def looked_at(page: Page, address: str, language: str) -> list[str]:
    """Everything found on one page in one language."""
    found: list[str] = []
    page.goto(ORIGIN + address)
    # Who is not known yet is told everything in both.
    if page.locator(f"html[lang={language}], main [lang={language}]").count() == 0:
        found.append("in another language")
    if page.locator("input[type=password]").count() and "sign-in" not in address:
        found.append("nobody is signed in")
    for size in (PHONE, DESK):
        sized(page, size)
        for light in LIGHTS:
            page.emulate_media(reduced_motion="reduce", color_scheme=light)
            whole = (size == PHONE) == (light == "light")
            found += axe(page, () if whole else CONTRAST)
        found += [f"{size[0]} px: {one}" for one in page.evaluate(WIDER)]
        if size == PHONE:
            found += page.evaluate(GEOMETRY, LEAST_PX)
    return [f"{address} {language}: {one}" for one in found]


def told(found: list[str]) -> None:
    assert found == [], "\n".join(found)


READS = [row for row in ROWS if row.startswith("GET ")]
READS = [row for row in READS if not row.removeprefix("GET ").strip().startswith(APART)]
# Not the parts of a page that are fetched anew: they are seen in it.
READS = [row for row in READS if not row.split()[1].endswith("/live")]


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_of_the_office_is_without_a_barrier(
    browser: Browser, house: Setting, language: str
) -> None:
    client = house.clients["dispatcher"]
    speak(client, language)
    page = shown_by(browser, client)
    at = pages(house, client, [row for row in READS if row not in GUESTS])
    assert len(at) > 20
    told([one for address in at for one in looked_at(page, address, language)])


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_of_a_customer_is_without_a_barrier(
    browser: Browser, house: Setting, language: str
) -> None:
    house.world.customer.contacts.update(language=language)
    client = guest(house.world.customer)
    client.defaults["HTTP_ACCEPT_LANGUAGE"] = language
    page = shown_by(browser, client)
    at = pages(house, client, [row for row in READS if row in GUESTS])
    assert len(at) > 2
    told([one for address in at for one in looked_at(page, address, language)])


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_sign_in_is_without_a_barrier(browser: Browser, house: Setting, language: str) -> None:
    client = house.clients["nobody"]
    speak(client, language)
    told(looked_at(shown_by(browser, client), "/office/sign-in", language))
