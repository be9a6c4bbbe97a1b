"""Serves the built front end under /app/: its files, and the shell for its own addresses.

/app/assets/ carries a hash in every name and is kept for ever; everything else, the service
worker /app/sw.js first, is asked for anew each time. An address with a dot is a file or
nothing: it never answers the shell, or a missing script would come back as a page.
"""

from collections.abc import Callable
from typing import Any
from wsgiref.headers import Headers

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.urls import re_path
from django.views.decorators.http import require_safe
from whitenoise.middleware import WhiteNoiseMiddleware

PREFIX = "/app/"


class AppFiles(WhiteNoiseMiddleware):  # type: ignore[misc]
    """WhiteNoise for Django's static files, and for the build under /app/."""

    def __init__(self, get_response: Callable[..., Any]) -> None:
        super().__init__(get_response)
        self.add_headers_function = app_headers
        if settings.APP_DIST.is_dir():
            self.add_files(str(settings.APP_DIST), prefix=PREFIX)

    def immutable_file_test(self, path: str, url: str) -> bool:
        return url.startswith(f"{PREFIX}assets/") or bool(super().immutable_file_test(path, url))


def app_headers(headers: Headers, path: str, url: str) -> None:
    if url.startswith(PREFIX) and not url.startswith(f"{PREFIX}assets/"):
        headers["Cache-Control"] = "no-cache"


def permissions_policy(
    get_response: Callable[[HttpRequest], HttpResponseBase],
) -> Callable[[HttpRequest], HttpResponseBase]:
    """The camera and the place are for our own pages alone."""

    def answer(request: HttpRequest) -> HttpResponseBase:
        response = get_response(request)
        response.headers.setdefault("Permissions-Policy", settings.PERMISSIONS_POLICY)
        return response

    return answer


@require_safe
def shell(request: HttpRequest) -> HttpResponse:
    try:
        page = (settings.APP_DIST / "index.html").read_bytes()
    except FileNotFoundError:
        return HttpResponse(
            "The front end is not built: `make run` builds it.\n",
            status=503,
            content_type="text/plain; charset=utf-8",
        )
    return HttpResponse(page, headers={"Cache-Control": "no-cache"})


urlpatterns = [re_path(r"^app/[^.]*$", shell, name="shell")]
