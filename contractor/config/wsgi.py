"""The callable that the WSGI server loads."""

import gc
import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.config.settings")

application = get_wsgi_application()
# What is loaded by now stays for good; the collector need not walk it for each request's litter.
gc.freeze()
# A survey with its verdict makes some ten thousand objects and drops them; looking for cycles after
# each seven hundred of them finds none.
gc.set_threshold(50_000, 20, 20)
