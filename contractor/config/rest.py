"""How the HTTP framework and the schema behave, in one place."""

from typing import Any

API_VERSION = "1.0.0"

REST_FRAMEWORK: dict[str, Any] = {
    # Bearer first: the first class names the WWW-Authenticate challenge, so that a missing token is
    # a 401.
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "contractor.people.tokens.BearerAuthentication",
        "contractor.api.sessions.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["contractor.api.roles.RolePermission"],
    "DEFAULT_RENDERER_CLASSES": [
        "contractor.api.renderers.WrittenRenderer",
        "contractor.api.pages.DeskRenderer",
    ],
    "DEFAULT_PARSER_CLASSES": [
        "contractor.api.parsers.StrictJSONParser",
        "contractor.api.parsers.MergePatchParser",
        "rest_framework.parsers.FormParser",
        "rest_framework.parsers.MultiPartParser",
    ],
    "DEFAULT_THROTTLE_CLASSES": ["contractor.api.limits.CallerLimit"],
    "DEFAULT_PAGINATION_CLASS": "contractor.api.paging.CursorPages",
    "DEFAULT_FILTER_BACKENDS": ["contractor.api.filters.StrictFilters"],
    "DEFAULT_SCHEMA_CLASS": "contractor.api.schema.Schema",
    "DEFAULT_CONTENT_NEGOTIATION_CLASS": "rest_framework.negotiation.DefaultContentNegotiation",
    "EXCEPTION_HANDLER": "contractor.api.handler.handle",
    "COERCE_DECIMAL_TO_STRING": True,
    "HTML_SELECT_CUTOFF": 50,
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}

SPECTACULAR_SETTINGS: dict[str, Any] = {
    "TITLE": "Glazing contractor",
    "VERSION": API_VERSION,
    "DESCRIPTION": "Openings, readings, verdicts, cuts, fastener schedules, bookings and packets of a "
    "glazing contractor with many crews. Lengths always carry their unit; times always carry their "
    "offset; nothing that is sent is ignored in silence. Figures are aids: the kit's own sheet, the "
    "local code and licensed trades outrank them.",
    "LICENSE": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
    "OAS_VERSION": "3.1.1",
    "SERVE_INCLUDE_SCHEMA": False,
    "SERVE_PERMISSIONS": ["rest_framework.permissions.AllowAny"],
    "SERVE_AUTHENTICATION": [],
    "COMPONENT_SPLIT_REQUEST": True,
    "PARSER_WHITELIST": [
        "contractor.api.parsers.StrictJSONParser",
        "contractor.api.parsers.MergePatchParser",
        "contractor.api.parsers.PhotoParser",
        "contractor.api.parsers.BytesParser",
    ],
    "RENDERER_WHITELIST": ["contractor.api.renderers.WrittenRenderer"],
    "SCHEMA_PATH_PREFIX": r"/api/v1",
    "ENUM_ADD_EXPLICIT_BLANK_NULL_CHOICE": False,
    "ENUM_NAME_OVERRIDES": {
        "JobState": "jobs.jobs.models.State",
        "DrawnKind": "jobs.drawings.models.What",
        "PieceKind": "jobs.receiving.models.What",
        "OrderKind": "jobs.receiving.models.Kind",
        "OrderState": "jobs.receiving.models.OrderState",
        "ClaimAgainst": "jobs.claims.models.Against",
        "ClaimKind": "jobs.claims.models.Kind",
        "ClaimState": "jobs.claims.models.State",
        "LossKind": "jobs.losses.models.Kind",
        "LossCostState": "jobs.losses.models.CostState",
        "VerdictState": "jobs.verdicts.models.State",
        "BookingState": "jobs.bookings.models.State",
        "PacketState": "jobs.packets.models.State",
        "DrawingState": "jobs.drawings.models.State",
        "PacketKind": "jobs.packets.models.Kind",
        "SawPlanState": "jobs.sawplans.models.State",
        "ReminderState": "jobs.reminders.choices.State",
        "ToolKind": "fitcheck.rules.survey.TOOLS",
        "YesNoUnknown": "fitcheck.rules.survey.MEMBRANES",
        "LiftConvention": "fitcheck.rules.survey.LIFT_CONVENTIONS",
        "HolidayRule": "fitcheck.rules.business_days.HOLIDAY_RULES",
        "CoolingOffRule": "fitcheck.rules.business_days.COOLING_OFF_RULES",
        "BarKind": "jobs.sawplans.shapes.KINDS",
        "RailShape": "fitcheck.checks.load_questions.RAIL_SHAPES",
        "RecordKind": "jobs.installs.models.Kind",
        "RecordState": "jobs.installs.models.RecordState",
        "MarkState": "jobs.installs.models.MarkState",
        "HowEnum": "jobs.installs.readers.HOW",
        "SecondReaderEnum": "jobs.installs.second.HOW",
        "StockKind": "jobs.stock.models.Kind",
        "StockMove": "jobs.stock.models.Move",
        "CustomerLanguage": "contractor.customers.models.Tongue",
        "PaperLanguage": "jobs.packets.models.Language",
        "VisitEnum": "jobs.bookings.models.Visit",
        "ListKind": "jobs.lists.models.Kind",
        "ListState": "jobs.lists.models.State",
        "ListMode": "jobs.lists.models.Mode",
        "DeliveryState": "contractor.notices.models.DeliveryState",
        "HappeningEnum": "jobs.reminders.heard.CHOICES",
    },
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "contractor.api.schema.finish",
        "contractor.notices.hook_schema.webhooks_told",
    ],
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
    "REDOC_DIST": "SIDECAR",
    "SORT_OPERATIONS": True,
}
