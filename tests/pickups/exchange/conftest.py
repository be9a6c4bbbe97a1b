"""The office's people, signed in; as the pages' own tests have them."""

from tests.pickups.desk.conftest import contested, office, signed_in

__all__ = ["contested", "office", "signed_in"]
