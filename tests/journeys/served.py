"""The product's web process with the app of another folder, named by APP_UNDER_TEST."""

import os
from pathlib import Path

from django.conf import settings

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")
settings.APP_DIST = Path(os.environ["APP_UNDER_TEST"])

from pickups.config.wsgi import application  # noqa: E402 - it reads the settings

__all__ = ["application"]
