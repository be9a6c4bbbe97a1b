"""What the web server calls. Plain WSGI: the views and all middleware are synchronous."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")

application = get_wsgi_application()
