"""How does an answer become JSON? As the framework does it, with written objects put in as they are."""

from collections.abc import Mapping
from functools import partial
from typing import Any
from uuid import uuid4

from rest_framework.renderers import JSONRenderer
from rest_framework.utils.encoders import JSONEncoder

from contractor.api.written import Written


class _Marking(JSONEncoder):
    """Leave an unguessable mark where a written object stands."""

    def __init__(self, *, found: dict[str, str], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.found = found

    def default(self, obj: Any) -> Any:
        """Mark written objects; the rest is the framework's."""
        if not isinstance(obj, Written):
            return super().default(obj)
        mark = uuid4().hex
        self.found[mark] = obj.text
        return mark


class WrittenRenderer(JSONRenderer):
    """JSON; what is kept as text is copied, neither read nor written again."""

    def render(
        self,
        data: Any,
        accepted_media_type: str | None = None,
        renderer_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """Render, then put each written object where its mark stands."""
        found: dict[str, str] = {}
        self.encoder_class = partial(_Marking, found=found)  # type: ignore[misc,assignment]
        body: bytes = super().render(data, accepted_media_type, renderer_context)
        for mark, text in found.items():
            body = body.replace(f'"{mark}"'.encode(), text.encode(), 1)
        return body
