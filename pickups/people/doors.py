"""How devices and plants show who they are at an HTTP door. Knows no operation and no event.

The push cookie is HttpOnly, Secure, SameSite=Strict with the __Host- prefix (RFC 6265bis), so
no other site's page can send with it; the read token and plant keys come as Authorization.
"""

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication
from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault
from pickups.people import queries
from pickups.people.models import Device, PlantKey
from pickups.people.rules import KeyScope

PUSH_COOKIE = "__Host-yardloop_push"


class ByPushCookie(BaseAuthentication):
    """A device that sends; active or closing."""

    def authenticate(self, request: Request) -> tuple[Device, None]:
        """The device, or Problem: device_unknown, device_revoked."""
        secret = request.COOKIES.get(PUSH_COOKIE, "")
        device = queries.device_by_push(secret) if secret else None
        return _in_use(device), None


class ByReadToken(BaseAuthentication):
    """A device that fetches; only an active one may."""

    def authenticate(self, request: Request) -> tuple[Device, None]:
        """The device, or Problem: device_unknown, device_revoked, device_closing."""
        scheme, _, token = request.headers.get("Authorization", "").partition(" ")
        known = scheme.lower() == "bearer" and token
        device = _in_use(queries.device_by_read(token) if known else None)
        if device.status == Device.Status.CLOSING:
            raise Problem(Code.DEVICE_CLOSING)
        return device, None


class ByPlantKey(BaseAuthentication):
    """A plant's system; unknown, wrong and revoked keys are answered alike."""

    def authenticate(self, request: Request) -> tuple[PlantKey, None]:
        """The key in force, or Problem(key_unknown)."""
        scheme, _, text = request.headers.get("Authorization", "").partition(" ")
        key = queries.plant_key(text) if scheme.lower() == "key" else None
        if key is None:
            raise Problem(Code.KEY_UNKNOWN)
        return key, None


class Known(BasePermission):
    """Whoever the door's authentication let through; it raises for everybody else.

    A plant's key also has to be for what is asked: to read, or the scope that the view names as
    its `key_scope`.
    """

    def has_permission(self, request: Request, view: APIView) -> bool:
        """True where the door knows who it is."""
        known: object = request.user
        if isinstance(known, PlantKey):
            reads = request.method in SAFE_METHODS
            needed = KeyScope.READ if reads else getattr(view, "key_scope", "")
            if needed not in known.scopes:
                fault = Fault("key", known.prefix, f"a key for {needed}")
                raise Problem(Code.NOT_ALLOWED, fault)
            return True
        return isinstance(known, Device)


def device_of(request: Request) -> Device:
    """Who sends or fetches, at a door that lets only devices in."""
    known: object = request.user
    assert isinstance(known, Device)
    return known


def key_of(request: Request) -> PlantKey:
    """Whose key it is, at a door that lets only plants in."""
    known: object = request.user
    assert isinstance(known, PlantKey)
    return known


def _in_use(device: Device | None) -> Device:
    if device is None:
        raise Problem(Code.DEVICE_UNKNOWN)
    if device.is_revoked:
        raise Problem(Code.DEVICE_REVOKED)
    return device


class _CookieScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = ByPushCookie
    name = "pushCookie"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        """How the OpenAPI schema names the push cookie."""
        return {"type": "apiKey", "in": "cookie", "name": PUSH_COOKIE}


class _TokenScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = ByReadToken
    name = "readToken"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        """How the OpenAPI schema names the read token."""
        return {"type": "http", "scheme": "bearer"}


class _KeyScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = ByPlantKey
    name = "plantKey"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        """How the OpenAPI schema names a plant key: `Authorization: Key <prefix>.<secret>`."""
        return {"type": "apiKey", "in": "header", "name": "Authorization"}
