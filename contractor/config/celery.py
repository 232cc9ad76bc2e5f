"""The one Celery application; tasks live in each room's tasks.py."""

import os

from celery import Celery

from contractor.config import message_files

message_files.register()
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.config.settings")

app = Celery("contractor")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
