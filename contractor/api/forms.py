"""What does a browser's form carry beside its fields? Programs send the same in headers."""

from django.http import QueryDict
from rest_framework.request import Request


def form_value(request: Request, name: str) -> str | None:
    """Read one of the form's own members; None when the body is no form."""
    data = request.data
    if not isinstance(data, QueryDict):
        return None
    value = data.get(name)
    return value if isinstance(value, str) and value else None
