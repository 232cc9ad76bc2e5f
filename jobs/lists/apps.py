"""The lists room as an application."""

from django.apps import AppConfig


class ListsRoom(AppConfig):
    name = "jobs.lists"
    label = "lists"
