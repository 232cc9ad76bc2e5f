"""The customers room as an application."""

from django.apps import AppConfig


class CustomersRoom(AppConfig):
    name = "contractor.customers"
    label = "customers"
