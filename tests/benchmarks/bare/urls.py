"""The service's own addresses, and two copies of a stock endpoint to hold them against."""

from django.db import transaction
from django.urls import include, path
from rest_framework import serializers
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.pagination import LimitOffsetPagination
from rest_framework.parsers import FormParser, JSONParser, MultiPartParser
from rest_framework.permissions import AllowAny
from rest_framework.renderers import BrowsableAPIRenderer, JSONRenderer
from rest_framework.routers import SimpleRouter
from rest_framework.viewsets import ModelViewSet

from bare.models import Plain


class PlainSerializer(serializers.ModelSerializer):
    """Every column, as the framework makes it."""

    class Meta:
        model = Plain
        fields = "__all__"


class Pages(LimitOffsetPagination):
    """Fifty a page."""

    default_limit = 50


class PlainView(ModelViewSet):
    """The framework as it comes: no login, no limit, no history; a create is one transaction."""

    queryset = Plain.objects.all()
    serializer_class = PlainSerializer
    authentication_classes = []
    permission_classes = [AllowAny]
    throttle_classes = []
    filter_backends = []
    pagination_class = Pages
    content_negotiation_class = DefaultContentNegotiation
    parser_classes = [JSONParser, FormParser, MultiPartParser]
    renderer_classes = [JSONRenderer, BrowsableAPIRenderer]
    schema = None

    @transaction.atomic
    def perform_create(self, serializer):
        """Write the row in one transaction."""
        serializer.save()


router = SimpleRouter()
router.register("bare", PlainView, "bare")
router.register("bare-again", PlainView, "bare-again")

urlpatterns = [
    path("", include("contractor.config.urls")),
    path("api/", include(router.urls)),
]
handler404 = "contractor.api.problems.not_found"
handler500 = "contractor.api.problems.broken"
