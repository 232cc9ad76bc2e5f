"""How does the description for integrators tell what is posted to a webhook? In OpenAPI's own words."""

from typing import Any

TEXT = {"type": "string"}
DATA = {
    "type": "object",
    "required": ["event", "noun", "about", "version", "by", "reason", "changes"],
    "properties": {
        "event": {"type": "string", "format": "uuid"},
        "noun": TEXT,
        "about": {**TEXT, "description": "Number or id of the row."},
        "version": {"type": "integer"},
        "by": TEXT,
        "reason": TEXT,
        "changes": {"type": "object", "description": "By field: [old, new]."},
    },
}
BODY = {
    "type": "object",
    "required": ["type", "timestamp", "data"],
    "properties": {
        "type": {**TEXT, "examples": ["booking.made"]},
        "timestamp": {"type": "string", "format": "date-time"},
        "data": DATA,
    },
}
HEADERS = {
    "webhook-id": "The same over all tries of one message: drop what you know.",
    "webhook-timestamp": "Seconds since 1970 of this try: refuse old ones.",
    "webhook-signature": "Standard Webhooks: `v1,` and HMAC-SHA256 of `id.timestamp.body`, in base64.",
}


def webhooks_told(result: dict[str, Any], **_: Any) -> dict[str, Any]:
    """Add what is posted to webhooks to the schema."""
    parameters = [
        {"name": name, "in": "header", "required": True, "description": says, "schema": TEXT}
        for name, says in HEADERS.items()
    ]
    result["webhooks"] = {
        "notice": {
            "post": {
                "operationId": "notice_posted",
                "description": "Something happened. Answer 2xx to take it, 410 to hear no more; any "
                "other answer is tried again for about three days.",
                "parameters": parameters,
                "requestBody": {
                    "required": True,
                    "content": {"application/json": {"schema": BODY}},
                },
                "responses": {"204": {"description": "Taken."}, "410": {"description": "Gone."}},
            }
        }
    }
    return result
