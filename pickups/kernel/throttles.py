"""Limits on how often a door may be used. They fail open: without a cache everybody passes."""

import logging
from typing import Any

from rest_framework.request import Request
from rest_framework.throttling import SimpleRateThrottle
from rest_framework.views import APIView

log = logging.getLogger(__name__)


class FailOpen(SimpleRateThrottle):
    """A rate limit that lets everybody pass, and says so in the log, when the cache is away."""

    def allow_request(self, request: Request, view: APIView) -> bool:
        """Whether this request is within the rate."""
        try:
            return bool(super().allow_request(request, view))
        except Exception as e:  # noqa: BLE001  the cache's client has many ways to fail
            log.warning("no limit on %s: the cache is away (%s)", self.scope, type(e).__name__)
            return True


class FewPerAddress(FailOpen):
    """For doors where a secret could be guessed: ten tries a minute from one address."""

    scope = "guess"
    rate = "10/min"

    def get_cache_key(self, request: Request, view: APIView) -> str:
        """One count an address."""
        return f"throttle:{self.scope}:{self.get_ident(request)}"


class PerSender(FailOpen):
    """For plants: six hundred requests a minute a key."""

    scope = "sender"
    rate = "600/min"

    def get_cache_key(self, request: Request, view: APIView) -> str | None:
        """One count a key."""
        sender: Any = request.auth or request.user
        return f"throttle:{self.scope}:{getattr(sender, 'pk', '')}"
