"""Every setting of the service on one page; the environment's names are in DEVELOPERS.md."""

import secrets
from pathlib import Path
from urllib.parse import urlsplit

import environ

from contractor.config import engines
from contractor.config.rest import REST_FRAMEWORK, SPECTACULAR_SETTINGS  # noqa: F401

env = environ.Env()
BASE_DIR = Path(__file__).resolve().parents[2]
DATA_DIR = Path(env.str("DATA_DIR", default=str(BASE_DIR / ".data")))
DATA_DIR.mkdir(parents=True, exist_ok=True)


def kept_secret(path: Path) -> str:
    """Read the secret key kept beside the data, making it once on a new machine."""
    if not path.exists():
        path.touch(mode=0o600)
        path.write_text(secrets.token_urlsafe(64))
    return path.read_text().strip()


DEBUG = False
SECRET_KEY = env.str("SECRET_KEY", default="") or kept_secret(DATA_DIR / "secret.key")
PUBLIC_URL = env.str("PUBLIC_URL", default="http://127.0.0.1:8000")
_public = urlsplit(PUBLIC_URL)
_https = _public.scheme == "https"
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=[_public.hostname, "localhost", "127.0.0.1"])
CSRF_TRUSTED_ORIGINS = [PUBLIC_URL]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "contractor.config.apps.ConfigRoom",
    "contractor.api",
    "contractor.notices",
    "contractor.people",
    "contractor.customers",
    "fitcheck.kits",
    "fitcheck.checks",
    "jobs.jobs",
    "jobs.openings",
    "jobs.surveys",
    "jobs.verdicts",
    "jobs.receiving",
    "jobs.claims",
    "jobs.losses",
    "jobs.bookings",
    "jobs.installs",
    "jobs.handovers",
    "jobs.calendars",
    "jobs.plans",
    "jobs.stock",
    "jobs.packets",
    "jobs.drawings",
    "jobs.sawplans",
    "jobs.reminders",
    "jobs.lists",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "contractor.api.envelope.EnvelopeMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
ROOT_URLCONF = "contractor.config.urls"
WSGI_APPLICATION = "contractor.config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "contractor" / "api" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

DATABASES = {"default": engines.database(env, DATA_DIR)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
REDIS_URL = env.str("REDIS_URL", default="")
CACHES = {"default": engines.cache(REDIS_URL)}
AUTH_USER_MODEL = "people.Member"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "/login/"
LOGIN_REDIRECT_URL = "/api/v1/"
LOGOUT_REDIRECT_URL = "/login/"

LANGUAGE_CODE = "en"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = True
STATIC_URL = "static/"
STATIC_ROOT = DATA_DIR / "static"
STATIC_ROOT.mkdir(exist_ok=True)
STORAGES = {
    "default": {
        "BACKEND": env.str("FILES_BACKEND", default="django.core.files.storage.FileSystemStorage"),
        "OPTIONS": env.json("FILES_OPTIONS", default={"location": str(DATA_DIR / "files")}),
    },
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedStaticFilesStorage"},
}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = False

# Bodies: 2 MB of readings is far more than a survey; photos have their own endpoint and limit.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
PHOTO_MOST_BYTES = 15 * 1024 * 1024
PHOTO_MOST_PIXELS = 40_000_000
# Lists that come in: how large, how long, and up to how many rows they are worked through in the request.
LIST_MOST_BYTES = 8 * 1024 * 1024
LIST_MOST_ROWS = 5000
LIST_AT_ONCE = 100

EMAIL_BACKEND = env.str("EMAIL_BACKEND", default="django.core.mail.backends.console.EmailBackend")
DEFAULT_FROM_EMAIL = env.str("FROM_EMAIL", default="office@example.com")
FIRM = {
    "name": env.str("FIRM_NAME", default="Thistlequay & Vane Glazing (invented)"),
    "phone": env.str("FIRM_PHONE", default="+1 555 555 0101"),
    "email": DEFAULT_FROM_EMAIL,
}
TRAVEL_PROVIDER = env.str("TRAVEL_PROVIDER", default="jobs.bookings.travel.great_circle_minutes")
TRAVEL_SPEED_KMH = env.float("TRAVEL_SPEED_KMH", default=40)
FONTS_DIR = env.str("FONTS_DIR", default="")
# What one paper may take before its worker gives it up with the reason; below Celery's own limits.
PAPER_SECONDS = env.float("PAPER_SECONDS", default=50)
PAPER_MEGABYTES = env.float("PAPER_MEGABYTES", default=1000)
FIRM_TIME_ZONE = env.str("FIRM_TIME_ZONE", default="America/Chicago")
# No message leaves in the site's night; what would waits for the morning.
QUIET_FROM = env.str("QUIET_FROM", default="20:00")
QUIET_UNTIL = env.str("QUIET_UNTIL", default="08:00")
# One function a channel, by dotted path; see jobs/reminders/channels.py for what it takes and raises.
MESSAGE_CHANNELS = {
    "email": "jobs.reminders.channels.email",
    "log": "jobs.reminders.channels.log_line",
    "text": env.str("TEXT_CHANNEL", default=""),
}
# Webhooks go to https addresses of the public net only, unless a test set-up says otherwise.
WEBHOOK_PRIVATE = env.bool("WEBHOOK_PRIVATE", default=False)
INCH_MARK = env.int("INCH_MARK", default=16)
RATE_LIMIT_PER_MINUTE = env.int("RATE_LIMIT_PER_MINUTE", default=600)
LOGIN_LIMIT_PER_MINUTE = env.int("LOGIN_LIMIT_PER_MINUTE", default=10)

CELERY_BROKER_URL, CELERY_BROKER_TRANSPORT_OPTIONS = engines.broker(REDIS_URL, DATA_DIR)
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_TIME_LIMIT = 90
CELERY_TASK_SOFT_TIME_LIMIT = 60
CELERY_TASK_PUBLISH_RETRY = False
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_MAX_MEMORY_PER_CHILD = 500_000  # kB; a child that grew beyond it is replaced
CELERY_WORKER_CONCURRENCY = env.int("WORKER_CONCURRENCY", default=2)
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE_FILENAME = str(DATA_DIR / "beat-schedule")
SWEEP_SECONDS = env.float("SWEEP_SECONDS", default=20)
CELERY_BEAT_SCHEDULE = {
    name: {"task": task, "schedule": SWEEP_SECONDS, "options": {"expires": SWEEP_SECONDS}}
    for name, task in {
        "bookings": "bookings.sweep",
        "packets": "packets.sweep",
        "drawings": "drawings.sweep",
        "plans": "plans.sweep",
        "saw plans": "sawplans.sweep",
        "reminders": "reminders.sweep",
        "installs": "installs.sweep",
        "jobs": "jobs.sweep",
        "lists": "lists.sweep",
        "webhooks": "webhooks.sweep",
    }.items()
} | {"old keys": {"task": "api.keys_forget", "schedule": 3600.0}}

SECURE_SSL_REDIRECT = _https
SECURE_HSTS_SECONDS = 31_536_000 if _https else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = _https
SECURE_HSTS_PRELOAD = _https
SECURE_PROXY_SSL_HEADER = (
    ("HTTP_X_FORWARDED_PROTO", "https") if env.bool("BEHIND_PROXY", default=False) else None
)
SESSION_COOKIE_SECURE = _https
SESSION_COOKIE_HTTPONLY = True
CSRF_COOKIE_SECURE = _https
CSRF_FAILURE_VIEW = "contractor.api.problems.csrf_failed"
X_FRAME_OPTIONS = "DENY"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": "contractor.api.envelope.LineFormatter"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": env.str("LOG_LEVEL", default="INFO")},
    "loggers": {
        "django.request": {"level": "ERROR"},
        "celery.worker.strategy": {"level": "WARNING"},
        "ezdxf": {"level": "WARNING"},
    },
}
