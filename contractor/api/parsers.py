"""What may a body be? JSON without repeated members, a merge patch, or an image."""

import gc
import json
import re
from collections.abc import Mapping
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser, JSONParser
from rest_framework.renderers import JSONRenderer

# The framework's view and request hold each other, and with them the body, until the collector looks;
# it looks seldom, so that a row of large bodies would pile up.
LARGE = 200_000


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ParseError(f"The member `{twice}` stands twice in one object.")
    return members


def _refuse_constant(name: str) -> Any:
    raise ParseError(f"{name} is no JSON number.")


NUL = re.compile(r"(?<!\\)(?:\\\\)*\\u0000")


def _check_storable(text: str, body: Any) -> None:
    """Refuse texts that escapes can write but no database keeps: NUL, and halves of a character."""
    if "\\u" not in text:
        return  # without escapes there is nothing to look for
    if NUL.search(text):
        raise ParseError("U+0000 stands in a text; no text may hold it.")
    json.dumps(body, ensure_ascii=False).encode()


class StrictJSONParser(JSONParser):
    """JSON in which no member stands twice, so that none is dropped in silence."""

    media_type = "application/json"
    renderer_class = JSONRenderer

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """Read the body as UTF-8 JSON."""
        try:
            text = stream.read().decode("utf-8")
            if len(text) > LARGE:
                gc.collect()
            body = json.loads(text, object_pairs_hook=_once, parse_constant=_refuse_constant)
            if "\\u" in text:
                _check_storable(text, body)
            return body
        except (ValueError, RecursionError) as error:
            raise ParseError(f"The body is not JSON: {error}") from error


class MergePatchParser(StrictJSONParser):
    """A partial update by JSON merge patch (RFC 7396)."""

    media_type = "application/merge-patch+json"


class PhotoParser(BaseParser):
    """An image as the body itself; the view reads the stream under its own limit."""

    media_type = "image/*"

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """Hand the stream on unread."""
        return stream


class BytesParser(PhotoParser):
    """The same from a client whose maker knows no image types; the bytes say what they are."""

    media_type = "application/octet-stream"
