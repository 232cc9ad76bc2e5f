"""Where is everything? The map of addresses."""

from typing import Any

from django.contrib.auth.views import LogoutView
from django.urls import include, path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView, SpectacularRedocView, SpectacularSwaggerView
from rest_framework.routers import APIRootView, DefaultRouter

from contractor.api.callers import EVERYONE, Caller
from contractor.api.expanding import ROOMS
from contractor.api.health import live, ready
from contractor.api.login import DeskLogin
from contractor.api.views import ListAndRead
from contractor.config.desk_map import desk_map
from contractor.customers.api import CustomerView, SiteView
from contractor.notices.api import ChangesView, HistoryView
from contractor.notices.api_hooks import DeliveryView, EndpointView
from contractor.people.api import IntegrationView, MemberView, TabletView
from contractor.people.api_absence import ClosedDayView, DayOffView, HolidayView
from contractor.people.api_crews import CrewView
from fitcheck.checks.api import FitView, LengthView
from fitcheck.checks.api_questions import view_of
from fitcheck.checks.questions import QUESTIONS
from fitcheck.kits.api import KitView, SheetView
from jobs.bookings.api import BookingView
from jobs.bookings.api_free import FreeView
from jobs.calendars.api import CalendarFeedView, calendar_file
from jobs.claims.api import ClaimView
from jobs.claims.api_deadlines import DeadlineView, WarrantyView
from jobs.drawings.api import DrawingView
from jobs.handovers.api import HandoverView, SignatureView
from jobs.installs.api import InstallView
from jobs.installs.api_bundle import BundleView
from jobs.installs.api_facts import MarkView, RecordView
from jobs.jobs.api import JobView
from jobs.lists.api import ExportView, ImportView
from jobs.losses.api import LossView
from jobs.losses.api_saves import SaveView
from jobs.openings.api import OpeningView
from jobs.packets.api import PacketView, PaperAgeView
from jobs.plans.api import DayPlanView
from jobs.receiving.api import ArrivalView, InspectionView, OrderView
from jobs.reminders.api import ReminderView
from jobs.reminders.api_digest import DigestView
from jobs.reminders.api_rules import RuleView
from jobs.sawplans.api import SawPlanView
from jobs.stock.api import ItemView, MovementView, VanStockView
from jobs.surveys.api import PhotoView, RefusedView, SurveyView
from jobs.verdicts.api import VerdictView


class MapView(APIRootView):
    """Everything that is served here, by room."""

    name = "Desk"
    roles = {"get": EVERYONE}
    scope = ""

    def desk_map(self, caller: Caller) -> list[dict[str, Any]]:
        """The same map as a person's tasks."""
        return desk_map(caller, {name: view for _, view, name in router.registry})


class Router(DefaultRouter):
    """The framework's router with a map that anybody logged in may read."""

    APIRootView = MapView

    def register(self, prefix: str, viewset: Any, basename: str | None = None) -> None:
        """Serve a room, and let its rows be given out whole beside those that name them."""
        super().register(prefix, viewset, basename)
        if issubclass(viewset, ListAndRead):
            ROOMS.setdefault(viewset.queryset.model, (viewset, str(basename)))


router = Router()
router.register("customers", CustomerView, "customer")
router.register("sites", SiteView, "site")
router.register("jobs", JobView, "job")
router.register("openings", OpeningView, "opening")
router.register("surveys", SurveyView, "survey")
router.register("refused-surveys", RefusedView, "refused")
router.register("photos", PhotoView, "photo")
router.register("verdicts", VerdictView, "verdict")
router.register("bookings/free", FreeView, "free-time")
router.register("bookings", BookingView, "booking")
router.register("installs", InstallView, "install")
router.register("install-records", RecordView, "install-record")
router.register("marks", MarkView, "mark")
router.register("calendars", CalendarFeedView, "calendar")
router.register("plans", DayPlanView, "plan")
router.register("handovers", HandoverView, "handover")
router.register("signatures", SignatureView, "signature")
router.register("visit-bundles", BundleView, "visit-bundle")
router.register("stock-items", ItemView, "stock-item")
router.register("stock-movements", MovementView, "stock-movement")
router.register("van-stock", VanStockView, "van-stock")
router.register("orders", OrderView, "order")
router.register("arrivals", ArrivalView, "arrival")
router.register("inspections", InspectionView, "inspection")
router.register("claims", ClaimView, "claim")
router.register("deadlines", DeadlineView, "deadline")
router.register("warranties", WarrantyView, "warranty")
router.register("losses", LossView, "loss")
router.register("saves", SaveView, "save")
router.register("packets", PacketView, "packet")
router.register("drawings", DrawingView, "drawing")
router.register("saw-plans", SawPlanView, "saw-plan")
router.register("reminders", ReminderView, "reminder")
router.register("reminder-rules", RuleView, "reminder-rule")
router.register("digest", DigestView, "digest")
router.register("imports", ImportView, "import")
router.register("exports", ExportView, "export")
router.register("kits", KitView, "kit")
router.register("sheets", SheetView, "sheet")
router.register("checks/fit", FitView, "check-fit")
router.register("checks/length", LengthView, "check-length")
for question in QUESTIONS:
    router.register(f"checks/{question.address}", view_of(question), f"check-{question.address}")
router.register("members", MemberView, "member")
router.register("crews", CrewView, "crew")
router.register("days-off", DayOffView, "day-off")
router.register("closed-days", ClosedDayView, "closed-day")
router.register("holidays", HolidayView, "holiday")
router.register("tablets", TabletView, "tablet")
router.register("integrations", IntegrationView, "integration")
router.register("history", HistoryView, "history")
router.register("changes", ChangesView, "change")
router.register("webhooks", EndpointView, "webhook")
router.register("deliveries", DeliveryView, "delivery")

urlpatterns = [
    path("", RedirectView.as_view(url="/api/v1/")),
    path("api/v1/", include(router.urls)),
    path("api/schema/", SpectacularAPIView.as_view(), name="schema"),
    path("api/docs/", SpectacularSwaggerView.as_view(url_name="schema"), name="docs"),
    path("api/redoc/", SpectacularRedocView.as_view(url_name="schema"), name="redoc"),
    path("p/<str:code>", PaperAgeView.as_view({"get": "retrieve"}), name="paper-age"),
    path("calendar/<str:secret>.ics", calendar_file, name="calendar-file"),
    path("login/", DeskLogin.as_view(), name="login"),
    path("logout/", LogoutView.as_view(), name="logout"),
    path("health/live", live, name="live"),
    path("health/ready", ready, name="ready"),
]
handler404 = "contractor.api.problems.not_found"
handler500 = "contractor.api.problems.broken"
