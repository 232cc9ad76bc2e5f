"""How does a receiver know that a message is ours, whole and fresh?

Source: Standard Webhooks 1.0: HMAC-SHA256 over `id.timestamp.body` with the secret's bytes, in base64
behind `v1,`. The id stays the same over all tries; the timestamp is that of the try.
"""

import base64
import hashlib
import hmac
import secrets

PREFIX = "whsec_"
BYTES = 32


def secret_make() -> str:
    """Make a secret of 32 random bytes."""
    return PREFIX + base64.b64encode(secrets.token_bytes(BYTES)).decode()


def signature_of(*, secret: str, key: str, timestamp: int, body: bytes) -> str:
    """Sign one try of one message."""
    signed = f"{key}.{timestamp}.".encode() + body
    mac = hmac.new(base64.b64decode(secret.removeprefix(PREFIX)), signed, hashlib.sha256)
    return "v1," + base64.b64encode(mac.digest()).decode()
