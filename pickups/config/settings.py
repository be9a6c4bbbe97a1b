"""Django's settings, the only place that reads the environment for the product.

Two deployments differ by environment variables only; each is named here beside its default,
and a wrong one stops the start with a sentence. With DATABASE_URL, REDIS_URL or EMAIL_URL
unset the settings point at what the supervisor starts under YARDLOOP_VAR (default .var).
"""

import re
from email.utils import formataddr
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

import dj_database_url
import dj_email_url
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from kombu import Queue

from pickups.config import environment as env
from pickups.config import places

# --- Where things lie -------------------------------------------------------------------------

BASE_DIR = places.PROJECT
VAR_DIR = places.var_dir()
APP_DIST = BASE_DIR / "frontend" / "dist"
_running = places.running(VAR_DIR)

# --- Address and secrets ----------------------------------------------------------------------

DEBUG = env.flag("DEBUG", False)
PORT = env.number("PORT", _running.get("port", 8000), least=1, most=65535)
# The address that people and phones use; it is printed on labels and written into mails.
PUBLIC_BASE_URL = env.text("PUBLIC_BASE_URL", f"http://localhost:{PORT}").rstrip("/")
_public = urlsplit(PUBLIC_BASE_URL)
if _public.scheme not in {"http", "https"} or not _public.hostname or _public.path:
    raise ImproperlyConfigured(
        f"PUBLIC_BASE_URL is {PUBLIC_BASE_URL!r}; "
        "it is http:// or https://, a host, perhaps a port, and no path."
    )
_https = _public.scheme == "https"
# With several machines set SECRET_KEY and EXPORT_KEY: each would make its own.
SECRET_KEY = env.text("SECRET_KEY", "") or places.secret_key(VAR_DIR)
# To this one phones seal what they save to a file: a private RSA key as a JWK (RFC 7517).
EXPORT_KEY = env.rsa_jwk("EXPORT_KEY") or places.export_key(VAR_DIR)
SECRET_KEY_FALLBACKS = env.listed("SECRET_KEY_FALLBACKS", [])
ALLOWED_HOSTS = env.listed(
    "ALLOWED_HOSTS", sorted({_public.hostname, "localhost", "127.0.0.1", "[::1]"})
)
CSRF_TRUSTED_ORIGINS = [PUBLIC_BASE_URL]

# --- Apps -------------------------------------------------------------------------------------

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "drf_spectacular",
    "simple_history",
    "pickups.journal",
    "pickups.people",
    "pickups.questions",
    "pickups.labels",
    "pickups.sync",
    "pickups.customers",
    "pickups.casings",
    "pickups.custody",
    "pickups.promises",
    "pickups.runs",
    "pickups.notices",
    "pickups.exchange",
    "pickups.desk",
    "pickups.portal",
    "plant.dock",
    "plant.inspection",
    "plant.curing",
    "plant.adjustments",
    "plant.unlabelled",
    "plant.forecast",
    "plant.floor",
    "pickups.config",
]
AUTH_USER_MODEL = "people.User"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
ROOT_URLCONF = "pickups.config.urls"
WSGI_APPLICATION = "pickups.config.wsgi.application"

# --- Middleware and pages ---------------------------------------------------------------------

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    # Before the static files: the service worker keeps the shell with the headers it came with.
    "csp.middleware.CSPMiddleware",
    "pickups.config.shell.permissions_policy",
    "pickups.config.shell.AppFiles",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "simple_history.middleware.HistoryRequestMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "pickups" / "config" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

# --- Database ---------------------------------------------------------------------------------

# Demo data and demo sign-ins exist only on the database that the supervisor starts.
EMBEDDED_DATABASE = not env.given("DATABASE_URL")
try:
    DATABASES = {
        "default": dj_database_url.parse(
            env.text("DATABASE_URL", places.database_url(places.socket_dir(VAR_DIR, "database"))),
            conn_max_age=env.number("DATABASE_CONN_MAX_AGE_S", 3600),
            conn_health_checks=True,
        )
    }
except (ValueError, dj_database_url.ParseError) as wrong:
    raise ImproperlyConfigured("DATABASE_URL is no address of a database.") from wrong
if DATABASES["default"].get("ENGINE") != "django.db.backends.postgresql":
    raise ImproperlyConfigured("DATABASE_URL must name PostgreSQL 17 or later: postgres://…")
# A long transaction stalls what every phone pulls, so each has an end. Imports and migrations
# raise these; 0 means no end. transaction_timeout came with PostgreSQL 17.
DATABASES["default"].setdefault("OPTIONS", {})["options"] = (
    f"-c lock_timeout={env.text('DATABASE_LOCK_TIMEOUT', '3s')}"
    f" -c idle_in_transaction_session_timeout={env.text('DATABASE_IDLE_TIMEOUT', '5s')}"
    f" -c transaction_timeout={env.text('DATABASE_TRANSACTION_TIMEOUT', '30s')}"
)
# The folder of pg_dump and pg_restore, which must be as new as the server; empty: on the PATH.
DATABASE_TOOLS = env.text("DATABASE_TOOLS", places.database_tools())

# --- Broker, cache, tasks ---------------------------------------------------------------------

EMBEDDED_BROKER = not env.given("REDIS_URL")
try:
    CELERY_BROKER_URL, _cache_url = places.redis_urls(
        env.text("REDIS_URL", f"unix://{places.valkey_socket(VAR_DIR)}?db=0")
    )
except ValueError as wrong:
    raise ImproperlyConfigured(f"REDIS_URL: {wrong}") from wrong
# A dead broker costs a request at most this once; what it missed is swept from the journal.
_broker_patience = {"socket_connect_timeout": 0.2, "socket_timeout": 1.0}
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.redis.RedisCache",
        "LOCATION": env.text("CACHE_URL", _cache_url),
        "OPTIONS": _broker_patience,
    }
}
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "visibility_timeout": 600,
    "unacked_restore_interval": 1,
    "max_retries": 0,
    **_broker_patience,
}
CELERY_BROKER_CONNECTION_TIMEOUT = 0.2
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
CELERY_TASK_PUBLISH_RETRY = False
CELERY_TASK_ACKS_LATE = CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_IGNORE_RESULT = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
# A forecast takes seconds, what is supposed minutes: mails and promises do not wait behind them.
# A worker that is told no line takes both.
CELERY_TASK_QUEUES = [Queue(name, routing_key=name) for name in ("celery", "forecast")]
CELERY_TASK_DEFAULT_ROUTING_KEY = "celery"
CELERY_TASK_ROUTES = {
    name: {"queue": "forecast"} for name in ("forecast.compute", "forecast.suppose")
}
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TIMEZONE = "UTC"
# In memory: every entry is a plain interval, and no file can be broken by a kill.
CELERY_BEAT_SCHEDULER = "celery.beat:Scheduler"
CELERY_BEAT_SCHEDULE = {
    task: {"task": task, "schedule": every_s, "options": {"expires": expires_s}}
    for task, every_s, expires_s in (
        ("journal.drain", 5.0, 5.0),  # what the poke after a commit did not reach
        ("sync.retry_held", 60.0, 60.0),
        ("custody.ask_unfinished", 600.0, 600.0),
        ("custody.ask_one_sided", 600.0, 600.0),
        # A new day's tables, soon after midnight in the dealer's zone.
        ("promises.compute_due", 600.0, 600.0),
        ("promises.tell_due", 600.0, 600.0),
        ("notices.ask_unconfirmed", 300.0, 300.0),
        ("curing.sweep", 600.0, 600.0),
        ("inspection.sweep", 3600.0, 600.0),
        # Looks at each plant whether its forecast is due; computing is a task of its own.
        ("forecast.sweep", 10.0, 10.0),
        ("forecast.purge", 86400.0, 3600.0),
        ("sync.purge", 86400.0, 3600.0),
        ("people.purge", 86400.0, 3600.0),
        # Settings change with a start: soon after one, phones hear of it.
        ("people.tell_settings", 30.0, 30.0),
        ("custody.purge", 86400.0, 3600.0),
        ("sync.forget_unsent", 86400.0, 3600.0),
        ("exchange.forget", 3600.0, 600.0),
    )
}

# --- Mail -------------------------------------------------------------------------------------

# Unset: the supervisor's receiver keeps the mails, and /mail/ shows them on this machine.
EMBEDDED_MAIL = not env.given("EMAIL_URL")
MAIL_DIR = VAR_DIR / "mail"
_mail = dj_email_url.parse(
    env.text("EMAIL_URL", f"smtp://localhost:{_running.get('mail_port', 1025)}")
)
if not _mail.get("EMAIL_BACKEND"):
    raise ImproperlyConfigured("EMAIL_URL is no address of a mail server: smtp://…")
EMAIL_BACKEND = _mail["EMAIL_BACKEND"]
EMAIL_HOST = "127.0.0.1" if EMBEDDED_MAIL else _mail["EMAIL_HOST"]
EMAIL_PORT = _mail["EMAIL_PORT"]
EMAIL_HOST_USER = _mail["EMAIL_HOST_USER"]
EMAIL_HOST_PASSWORD = _mail["EMAIL_HOST_PASSWORD"]
EMAIL_USE_TLS = _mail["EMAIL_USE_TLS"]
EMAIL_USE_SSL = _mail["EMAIL_USE_SSL"]
EMAIL_TIMEOUT = 10
DEALER_NAME = env.text("DEALER_NAME", "Marrowgate Tire & Retread")
SERVER_EMAIL = env.text("FROM_EMAIL", f"yardloop@{_public.hostname}")
DEFAULT_FROM_EMAIL = formataddr((DEALER_NAME, SERVER_EMAIL))

# --- Files ------------------------------------------------------------------------------------

STATIC_URL = "/static/"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    # PHOTOS_URL names an S3-compatible store of objects; else they lie beside the database.
    "photos": env.object_store("PHOTOS_URL")
    or {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {
            "location": VAR_DIR / "photos",
            "file_permissions_mode": 0o600,
            "directory_permissions_mode": 0o700,
        },
    },
}
# No MEDIA_URL: a photo is read only through a record that its viewer may see.
MEDIA_ROOT = VAR_DIR / "photos"
WHITENOISE_USE_FINDERS = True
WHITENOISE_ALLOW_ALL_ORIGINS = False
WHITENOISE_MAX_AGE = 0

# --- Doors ------------------------------------------------------------------------------------

REST_FRAMEWORK = {
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["pickups.kernel.parsers.SafeJSONParser"],
    # Each door names who may pass; one that names nobody stays shut.
    "DEFAULT_AUTHENTICATION_CLASSES": [],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    # Whose tries are counted: never an address that the sender could write himself.
    "NUM_PROXIES": 1 if env.flag("TRUST_PROXY", False) else 0,
    "EXCEPTION_HANDLER": "pickups.kernel.problems.exception_handler",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
    "TEST_REQUEST_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Yardloop",
    "DESCRIPTION": "Casings from a fleet's yard through the retread plant and back.",
    "VERSION": "1",
    "OAS_VERSION": "3.1.1",
    "POSTPROCESSING_HOOKS": ["pickups.kernel.openapi.complete"],
    "SCHEMA_PATH_PREFIX": "/api/",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
# Where these roles may bring a larger file than elsewhere, in bytes.
ROOMY_UPLOADS = {"/office/devices/unsent": (256 * 2**20, {"dispatcher", "admin"})}
FILE_UPLOAD_HANDLERS = [
    "pickups.kernel.uploads.Bounded",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

# --- Safety of the browser --------------------------------------------------------------------

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        # The scanner is WebAssembly.
        "script-src": [SELF, "'wasm-unsafe-eval'"],
        "style-src": [SELF],
        "font-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "media-src": [SELF, "blob:"],
        "connect-src": [SELF],
        "worker-src": [SELF],
        # Labels are printed out of a frame that shows their PDF.
        "frame-src": ["blob:"],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    }
}
PERMISSIONS_POLICY = "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
SECURE_HSTS_SECONDS = env.number("HSTS_SECONDS", 3600 if _https else 0)
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = _https
# Only when a proxy of our own sets this header on every request.
SECURE_PROXY_SSL_HEADER = (
    ("HTTP_X_FORWARDED_PROTO", "https") if env.flag("TRUST_PROXY", False) else None
)
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]

# --- Language and time ------------------------------------------------------------------------

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("es", "Español")]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"
# The days that people are told (promises, notices) are this place's days.
DEALER_TIME_ZONE = env.text("DEALER_TIME_ZONE", "America/Chicago")
try:
    ZoneInfo(DEALER_TIME_ZONE)
except (KeyError, ValueError, OSError) as wrong:
    raise ImproperlyConfigured(
        f"DEALER_TIME_ZONE is {DEALER_TIME_ZONE!r}; a name such as America/Chicago is allowed."
    ) from wrong

# --- The dealer -------------------------------------------------------------------------------

# Said to whoever scans a label: whose casing it is not, and whom to call.
DEALER_PHONE = env.text("DEALER_PHONE", "555 0100")
# In which fees and offers are told (ISO 4217).
DEALER_CURRENCY = env.text("DEALER_CURRENCY", "USD")
if re.fullmatch("[A-Z]{3}", DEALER_CURRENCY) is None:
    raise ImproperlyConfigured(
        f"DEALER_CURRENCY is {DEALER_CURRENCY!r}; three capital letters such as USD are allowed."
    )

# Where a sign-in leads, by role, as the name of an address; everybody else to the office.
HOMES = {"plant": "floor"}

# --- Disputes -----------------------------------------------------------------------------------

# Working days after which a dispute about a signed pickup is overdue. Common practice; there is no
# published source.
DISPUTE_DAYS = env.number("DISPUTE_DAYS", 3)

# --- Stop-use notices ---------------------------------------------------------------------------

# After how many hours an owner who has not confirmed a stop-use notice becomes an open question.
# Our own figure; there is no published source.
STOP_USE_CONFIRM_HOURS = env.number("STOP_USE_CONFIRM_HOURS", 4, least=1, most=720)

# --- Personal data ------------------------------------------------------------------------------

# After how many days what may name a person is erased, by kind: words of a dispute, of a step about
# what waits, of a driver on the way; signatures; who accepted a sale. Our own choice, no published
# source: check the law of your state. `manage.py purge` erases now, the worker once a day.
KEPT_DAYS = {
    kind: env.number(f"KEPT_DAYS_{kind.upper()}", days, least=1, most=36_500)
    for kind, days in {
        "dispute": 1095,
        "reminder": 1095,
        "road": 365,
        "signature": 2555,
        "acceptance": 2555,
    }.items()
}

# --- Devices ------------------------------------------------------------------------------------

# How many days a device that is taken out of use may still send what it holds; then it is shut out.
# Our own choice: a week away and a week to find it.
DEVICE_CLOSING_DAYS = env.number("DEVICE_CLOSING_DAYS", 14)

# --- Forecast -----------------------------------------------------------------------------------

# A plant's forecast is computed anew when something there has changed, at most every so many
# seconds, and at the latest after so many; without one it counts so many hours. What was predicted
# and learned is kept so many days. Our own figures.
FORECAST_EVERY_S = env.number("FORECAST_EVERY_S", 60, least=1)
FORECAST_LATEST_S = env.number("FORECAST_LATEST_S", 900, least=60)
FORECAST_VALID_HOURS = env.number("FORECAST_VALID_HOURS", 24, least=1, most=240)
FORECAST_KEPT_DAYS = env.number("FORECAST_KEPT_DAYS", 400, least=60, most=36_500)

# --- Promises at risk ---------------------------------------------------------------------------

# Under which probability, in percent, of a casing being back on its promised day somebody has to
# look at the promise; whether its owner is told a new day by itself then, and between which hours
# of the dealer's day that may happen. Our own figures; there is no published source.
PROMISE_AT_RISK_PERCENT = env.number("PROMISE_AT_RISK_PERCENT", 50, least=1, most=99)
PROMISE_TELL_NEW_DAYS = env.flag("PROMISE_TELL_NEW_DAYS", False)
TELLING_BEGINS_HOUR = env.number("TELLING_BEGINS_HOUR", 7, least=0, most=23)
TELLING_ENDS_HOUR = env.number("TELLING_ENDS_HOUR", 20, least=1, most=24)

# --- Casings that wait for their owners ---------------------------------------------------------

# After how many days on the rack a call is proposed, how many after that a written notice, and how
# long the notice says that a casing is held. Common practice, no published source; the law on
# unclaimed property differs by state: check it before you set them.
UNCLAIMED_CALL_DAYS = env.number("UNCLAIMED_CALL_DAYS", 7)
UNCLAIMED_WRITE_DAYS = env.number("UNCLAIMED_WRITE_DAYS", 14)
UNCLAIMED_HOLD_DAYS = env.number("UNCLAIMED_HOLD_DAYS", 30)

# --- Health and log ---------------------------------------------------------------------------

READY_DISK_FREE_MIN_MB = env.number("READY_DISK_FREE_MIN_MB", 500)
READY_FEED_AGE_MAX_S = env.number("READY_FEED_AGE_MAX_S", 60)
READY_WORKER_AGE_MAX_S = env.number("READY_WORKER_AGE_MAX_S", 20)
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {
            "()": "pickups.config.masked.Masked",
            "fmt": "{asctime} {levelname} {name}: {message}",
            "style": "{",
        }
    },
    "handlers": {"stdout": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stdout"], "level": env.text("LOG_LEVEL", "INFO").upper()},
    "loggers": {
        "celery.redirected": {"level": "ERROR"},
        # Through the one handler above, which masks: Django's own print addresses as they came.
        "django": {"level": "INFO", "handlers": []},
        "django.server": {"level": "INFO", "handlers": [], "propagate": True},
    },
}
