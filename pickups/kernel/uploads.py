"""How large a file a form may bring. The rest of one that is larger is read and kept nowhere.

A body that claims to be far larger is refused unread; what a client claims is not believed either.
"""

from typing import Any

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.core.files.uploadhandler import FileUploadHandler, SkipFile
from django.http import HttpRequest

MOST_BYTES = 5 * 2**20
MOST_CLAIMED = 20 * MOST_BYTES
_SKIPPED = "pickups.upload_too_big"


def too_big(request: HttpRequest) -> bool:
    """Whether a file of this form was larger than is allowed, and so is not among its files."""
    return bool(request.META.get(_SKIPPED))


def _most(request: HttpRequest | None) -> int:
    """Bytes that a file of this form may have; more only where that is set, for who decides."""
    roomy, roles = settings.ROOMY_UPLOADS.get(getattr(request, "path", ""), (MOST_BYTES, ()))
    return roomy if getattr(getattr(request, "user", None), "role", "") in roles else MOST_BYTES


class Bounded(FileUploadHandler):
    """Stands before the handlers that keep a file."""

    most = MOST_BYTES

    def handle_raw_input(
        self,
        input_data: Any,
        META: dict[str, Any],  # noqa: N803 - as Django names it
        content_length: int,
        boundary: Any,
        encoding: str | None = None,
    ) -> None:
        """Nothing of a body that claims too much is read."""
        self.most = _most(self.request)
        if content_length > max(MOST_CLAIMED, self.most + 2**20):
            raise RequestDataTooBig(f"a form of {content_length} bytes")

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes:
        """Let it through while it is small enough."""
        if start + len(raw_data) > self.most:
            if self.request is not None:
                self.request.META[_SKIPPED] = "1"
            raise SkipFile
        return raw_data

    def file_complete(self, file_size: int) -> None:
        """The handlers behind this one have it."""
