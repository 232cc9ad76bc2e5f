"""How does an answer become JSON? As the framework does it, with written objects put in as they are."""

import json
from collections.abc import Mapping
from typing import Any

import orjson
from rest_framework.renderers import JSONRenderer
from rest_framework.utils.encoders import JSONEncoder

from contractor.api.written import Written, line_safe

OTHERS = JSONEncoder()
# Moments are written by the framework, to the microsecond or the second as they are.
OPTIONS = orjson.OPT_PASSTHROUGH_DATETIME | orjson.OPT_NON_STR_KEYS


class WrittenRenderer(JSONRenderer):
    """JSON; what is kept as text is copied, neither read nor written again."""

    def render(
        self,
        data: Any,
        accepted_media_type: str | None = None,
        renderer_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """Render, indented when the media type asks for it."""
        if data is None:
            return b""
        indent = self.get_indent(accepted_media_type or "", renderer_context or {})
        body = line_safe(orjson.dumps(data, default=_other, option=OPTIONS))
        return body if indent is None else _indented(body, indent)


def _other(value: Any) -> Any:
    """What is no plain JSON: a written object's own text, else as the framework has it."""
    return orjson.Fragment(value.text) if isinstance(value, Written) else OTHERS.default(value)


def _indented(body: bytes, indent: int) -> bytes:
    text = json.dumps(json.loads(body), indent=indent, ensure_ascii=False)
    return line_safe(text.encode())
