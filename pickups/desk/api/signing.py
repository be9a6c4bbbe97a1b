"""Sign in, sign out, the language switch, and where `/` leads."""

from typing import cast

from django import forms
from django.conf import settings
from django.contrib.auth import authenticate, login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.desk import words
from pickups.desk.api.door import not_for_you, page
from pickups.kernel.throttles import FewPerAddress


class SignIns(FewPerAddress):
    """Ten tries a minute from one address, counted apart from those of other doors."""

    scope = "sign_in"


class SignIn(forms.Form):
    """What a person types; text that no database keeps is refused here."""

    user = forms.CharField(max_length=150)
    password = forms.CharField(max_length=200, strip=False)


@never_cache
@require_http_methods(["GET"])
def home(request: HttpRequest) -> HttpResponse:
    """Where a sign-in leads for who is signed in, else the sign-in."""
    return redirect(_home(request.user) if request.user.is_authenticated else "sign-in")


@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """A wrong name and a wrong password are answered alike."""
    if request.method == "GET":
        return _led_here(request) if request.user.is_authenticated else _form(request)
    throttle = SignIns()
    # The rate limit reads the request's address only, which both kinds of request carry.
    if not throttle.allow_request(cast(Request, request), cast(APIView, None)):
        answer = _form(request, "sign_in_often", status=429)
        answer["Retry-After"] = str(max(1, round(throttle.wait() or 60)))
        return answer
    form = SignIn(request.POST)
    if not form.is_valid():
        return _form(request, "sign_in_wrong", status=400)
    typed = form.cleaned_data
    user = authenticate(request, username=typed["user"], password=typed["password"])
    if user is None:
        return _form(request, "sign_in_wrong", status=400)
    login(request, user)
    return redirect(_next(request) or _home(user))


def _home(user: object) -> str:
    """The first page of somebody's role."""
    return str(settings.HOMES.get(getattr(user, "role", ""), "office"))


def _led_here(request: HttpRequest) -> HttpResponse:
    """Somebody who is signed in: on to where they wanted, or why that is not for them.

    Only the records lead somebody here who is signed in; any other page answers itself.
    """
    asked = _next(request)
    if asked.startswith(reverse("admin:index")) and not request.user.is_staff:
        return not_for_you(request, "not_records_say")
    return redirect(asked) if asked else _form(request)


def _form(request: HttpRequest, wrong: str = "", status: int = 200) -> HttpResponse:
    typed = request.POST.get("user", "")[:150] if request.method == "POST" else ""
    return page(
        request, "sign_in.html", status=status, wrong=wrong, typed=typed, next=_next(request)
    )


def _next(request: HttpRequest) -> str:
    """Where to go after; never to another host."""
    asked = request.POST.get("next") or request.GET.get("next") or ""
    fits = url_has_allowed_host_and_scheme(asked, {request.get_host()}, request.is_secure())
    return asked if fits else ""


@never_cache
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Ends the session."""
    logout(request)
    return redirect("sign-in")


@never_cache
@require_POST
def speak(request: HttpRequest) -> HttpResponse:
    """The language switch; kept in a cookie, so that it holds before one signs in."""
    asked = words.spoken(request.POST.get("language"))
    answer = redirect(_next(request) or "home")
    answer.set_cookie(
        settings.LANGUAGE_COOKIE_NAME,
        asked,
        max_age=365 * 86400,
        samesite="Lax",
        httponly=True,
        secure=request.is_secure(),
    )
    return answer
