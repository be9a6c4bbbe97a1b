"""What other apps may use of inspection beside its services and queries. Nothing else of this app
is imported elsewhere; nothing is done here."""

from plant.inspection import rushing

__all__ = ["rushing"]
