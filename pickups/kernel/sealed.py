"""What was sealed to this server: JWE in its compact form (RFC 7516), RSA-OAEP-256 and A256GCM.

Whoever has the public key can seal, only this server can open. The key's id is its thumbprint
(RFC 7638), so a file for another server is told from a damaged one. Knows nothing of what is
inside.
"""

import base64
import binascii
import json
from functools import lru_cache

from django.conf import settings
from joserfc import jwe
from joserfc.errors import JoseError
from joserfc.jwk import RSAKey

ALGORITHMS = ("RSA-OAEP-256", "A256GCM")
MOST_BYTES = 2**30
"""Of a sealed text. It is held in memory about three times while it is opened."""


class Damaged(Exception):
    """It is no such text, or it is not as it was sealed."""


class NotOurs(Exception):
    """It was sealed to another server's key."""


class _Large(jwe.JWERegistry):
    max_ciphertext_length = MOST_BYTES


def public_key() -> dict[str, str]:
    """The key that seals: `kty`, `n`, `e` and `kid`, nothing private."""
    key = _key(settings.EXPORT_KEY)
    parts = key.as_dict(private=False)
    return {"kty": "RSA", "n": str(parts["n"]), "e": str(parts["e"]), "kid": key.thumbprint()}


def opened(sealed: bytes) -> bytes:
    """What is inside. Raises NotOurs or Damaged."""
    key = _key(settings.EXPORT_KEY)
    sealed = sealed.strip()
    kid = _kid(sealed)
    if kid != key.thumbprint():
        raise NotOurs(kid)
    try:
        inside = jwe.decrypt_compact(sealed, key, registry=_Large(algorithms=ALGORITHMS)).plaintext
    except (JoseError, ValueError, TypeError, KeyError) as why:
        raise Damaged(type(why).__name__) from None
    if inside is None:
        raise Damaged("nothing inside")
    return bytes(inside)


@lru_cache(maxsize=4)
def _key(text: str) -> RSAKey:
    return RSAKey.import_key(json.loads(text))


def _kid(sealed: bytes) -> str:
    """Whose key it says it was sealed to; raises Damaged where there is no readable head."""
    head, point, _ = sealed[:2048].partition(b".")
    try:
        said = json.loads(base64.urlsafe_b64decode(head + b"=" * (-len(head) % 4)))
    except (ValueError, binascii.Error, RecursionError):
        said = None
    if not point or not isinstance(said, dict) or not isinstance(said.get("kid"), str):
        raise Damaged("no head")
    return str(said["kid"])
