"""How do images come in and go out? Put under the SHA-256 of what is sent; putting one twice is harmless."""

from io import BytesIO
from typing import IO, Any, cast

from django.http import FileResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.parsers import BytesParser, PhotoParser
from contractor.api.views import Room


def image_schema(shape: Any) -> Any:
    """Describe the PUT of an image, whose rows have this shape."""
    kinds = (PhotoParser.media_type, BytesParser.media_type)
    put = extend_schema(
        request={kind: OpenApiTypes.BINARY for kind in kinds}, responses={200: shape, 201: shape}
    )
    return extend_schema_view(update=put)


class ImageByDigest(Room):
    """What photos and signatures share. A subclass names its rows, its roles and its service."""

    lookup_field = "digest"
    small_answers = True
    lookup_value_regex = "[0-9a-f]{64}"
    parser_classes = [PhotoParser, BytesParser]
    http_method_names = ["get", "put", "head", "options"]

    def retrieve(self, request: Request, **kwargs: Any) -> Response:
        """Tell about it."""
        return Response(self.get_serializer(self.get_object()).data)

    def update(self, request: Request, digest: str) -> Response:
        """Keep it: 201 when it is new, 200 when it was here."""
        body = request.data if hasattr(request.data, "read") else BytesIO()  # an empty one
        row, is_new = self.keep(digest, cast("IO[bytes]", body))
        return Response(self.get_serializer(row).data, 201 if is_new else 200)

    def keep(self, digest: str, stream: IO[bytes]) -> tuple[Any, bool]:
        """Call the room's service; each subclass says which."""
        raise NotImplementedError

    @extend_schema(responses={(200, "image/*"): OpenApiTypes.BINARY})
    @action(detail=True)
    def file(self, request: Request, digest: str) -> FileResponse:
        """Give out the image itself, as it was cleaned: without position data, and nothing that runs."""
        row = self.get_object()
        response = FileResponse(row.file.open(), content_type=row.media_type)
        response["X-Content-Type-Options"] = "nosniff"
        response["Content-Security-Policy"] = "default-src 'none'; sandbox"
        return response
