"""Which rooms make up this service, and which engines stand under it?"""

from contractor.config.celery import app as celery_app

__all__ = ["celery_app"]
