"""The people room as an application."""

from django.apps import AppConfig


class PeopleRoom(AppConfig):
    name = "contractor.people"
    label = "people"
