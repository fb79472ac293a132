"""Django's settings, from the environment (saltus.web.environment)."""

from datetime import timedelta
from pathlib import Path

import dj_database_url
from csp.constants import NONE, SELF
from django.utils.translation import gettext_lazy as _

from saltus.web.environment import read_environment

ENVIRONMENT = read_environment()
HERE = Path(__file__).parent
DEMO = (ENVIRONMENT.data / "demo.json").is_file()  # an invented squad that is soon thrown away

SECRET_KEY = ENVIRONMENT.secret_key
DEBUG = ENVIRONMENT.debug
ALLOWED_HOSTS = [*ENVIRONMENT.allowed_hosts, "127.0.0.1", "localhost", "[::1]"]
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ENVIRONMENT.allowed_hosts]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "axes",
    "csp",
    "saltus.web.apps.WebConfig",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "saltus.web.preferences.middleware.PreferencesMiddleware",
    "saltus.web.pocket.middleware.AthletesMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "saltus.web.faults.FaultsMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "saltus.web.urls"
WSGI_APPLICATION = "saltus.web.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [HERE / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
            "builtins": ["saltus.web.templatetags.figures_in_words"],
        },
    }
]

DATABASES = {"default": dj_database_url.parse(ENVIRONMENT.database_url, conn_max_age=60)}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # Readers do not wait for the writer, and a writer takes its turn at once. What a phone was told
    # is kept outlives a power cut too. What is deleted is overwritten, for it may be about
    # somebody's health.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA secure_delete=ON",
    }

AUTH_USER_MODEL = "web.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "squad"
LOGOUT_REDIRECT_URL = "sign-in"

AXES_USERNAME_FORM_FIELD = "username"  # of the form, whatever the field of the account is called
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_TEMPLATE = "accounts/locked_out.html"
AXES_ENABLE_ADMIN = False

if DEMO:
    # Cookies do not know ports: beside the demo a coach stays signed in to their own pages.
    SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = "demo_session", "demo_csrf"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = ENVIRONMENT.https
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 30
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_SSL_REDIRECT = ENVIRONMENT.https
SECURE_HSTS_SECONDS = 31_536_000 if ENVIRONMENT.https else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = ENVIRONMENT.https
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if ENVIRONMENT.https else None
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

LANGUAGE_CODE = "en"
LANGUAGES = [("en", _("English")), ("de", _("German"))]
LOCALE_PATHS = [HERE / "locale"]
FORMAT_MODULE_PATH = "saltus.web.formats"
USE_I18N = True
USE_TZ = True
TIME_ZONE = ENVIRONMENT.time_zone

STATIC_URL = "static/"
STATIC_ROOT = ENVIRONMENT.data / "static"
STATICFILES_DIRS = [("saltus", HERE / "static"), ("made", ENVIRONMENT.data / "made")]
WHITENOISE_USE_FINDERS = True
for _folder in ("made", "static", "athletes"):
    (ENVIRONMENT.data / _folder).mkdir(exist_ok=True)

MEDIA_ROOT = ENVIRONMENT.data / "athletes"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 1_000_000
RECORDING_LIMIT_BYTES = 200_000_000
ASSESS_IN_BACKGROUND = True
PLAN_IN_BACKGROUND = True

EMAIL_BACKEND = "django.core.mail.backends.console.EmailBackend"
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {
        "console": {"class": "logging.StreamHandler"},
        "nowhere": {"class": "logging.NullHandler"},
    },
    "loggers": {
        "django": {"handlers": ["console"], "level": "WARNING"},
        # Whoever asks under a wrong name gets a 400; strangers try that all day on the open net.
        "django.security.DisallowedHost": {"handlers": ["nowhere"], "propagate": False},
        "axes": {"handlers": ["console"], "level": "ERROR"},
        "waitress": {"handlers": ["console"], "level": "WARNING"},
    },
}
