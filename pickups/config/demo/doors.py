"""The running product as its users reach it: HTTP for phones and machines, pages for the office."""

import re
import urllib.error
import urllib.parse
import urllib.request
from dataclasses import dataclass, field
from html import unescape
from http.cookiejar import CookieJar

from pickups.config.demo.phone import Reply

PATIENCE_S = 30


class ShutDoor(Exception):
    """The product answered something else than what the day needs; says what."""


@dataclass
class Http:
    """A door over HTTP; raises OSError where the product does not run."""

    url: str

    def __call__(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """One request and its answer, whatever it is."""
        asked = urllib.request.Request(  # noqa: S310 - our own address
            self.url + path, data=body or None, headers=headers, method=method
        )
        try:
            with urllib.request.urlopen(asked, timeout=PATIENCE_S) as answer:  # noqa: S310
                return Reply(answer.status, dict(answer.headers.items()), answer.read())
        except urllib.error.HTTPError as e:
            return Reply(e.code, dict(e.headers.items()), e.read())


@dataclass
class Office:
    """Somebody at the desk: a browser without a screen, which fills in the forms of pages."""

    url: str
    cookies: CookieJar = field(default_factory=CookieJar)
    page: str = ""
    at: str = ""

    def sign_in(self, user: str, password: str) -> None:
        """Through the page that people use."""
        self.get("/office/sign-in")
        self.post("/office/sign-in", user=user, password=password)
        if self.at.endswith("/office/sign-in"):
            raise ShutDoor(f"the office does not let {user} in")

    def get(self, path: str) -> str:
        """Open a page."""
        return self._ask(urllib.request.Request(self.url + path))  # noqa: S310

    def post(self, path: str, **fields: object) -> str:
        """Send a form of the page that is open."""
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', self.page)
        if token is None:
            raise ShutDoor(f"no form is open that could be sent to {path}")
        pairs = [("csrfmiddlewaretoken", token.group(1))]
        for name, value in fields.items():
            each = value if isinstance(value, (list, tuple)) else [value]
            pairs += [(name, str(one)) for one in each]
        data = urllib.parse.urlencode(pairs).encode()
        headers = {"Referer": self.at or self.url}
        asked = urllib.request.Request(self.url + path, data=data, headers=headers)  # noqa: S310
        return self._ask(asked)

    def _ask(self, asked: urllib.request.Request) -> str:
        browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))
        try:
            with browser.open(asked, timeout=PATIENCE_S) as answer:
                self.page, self.at = answer.read().decode(), answer.geturl()
        except urllib.error.HTTPError as e:
            said = unescape(re.sub(r"<[^>]+>", " ", e.read().decode(errors="replace")))
            raise ShutDoor(f"{asked.full_url}: {e.code} {' '.join(said.split())[:300]}") from None
        return self.page
