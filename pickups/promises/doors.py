"""What other apps may use of promises beside its services and queries. Nothing else of this app is
imported elsewhere; nothing is done here."""

from pickups.promises import accounting, accounts, finishing, offering, revising, risks, watching
from pickups.promises.models import Promise

Basis = Promise.Basis

__all__ = ["Basis", "accounting", "accounts", "finishing", "offering", "revising", "risks",
           "watching"]  # fmt: skip
