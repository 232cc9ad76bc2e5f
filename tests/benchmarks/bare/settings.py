"""The service's own settings, with a stock endpoint of the framework put beside it."""

from contractor.config.settings import *  # noqa: F403
from contractor.config.settings import INSTALLED_APPS as OWN_APPS

INSTALLED_APPS = [*OWN_APPS, "bare.apps.Bare"]
ROOT_URLCONF = "bare.urls"
