"""May this address be posted to, and what did it answer? Never into the house's own network.

The name is looked up once and the connection goes to the address that was looked at, so that a name
cannot point elsewhere a moment later. Redirects are not followed.
"""

import ipaddress
import socket
import ssl
from collections.abc import Mapping
from http.client import HTTPConnection, HTTPSConnection
from urllib.parse import SplitResult, urlsplit

from django.conf import settings

TIMEOUT = 10  # [s]
MOST_READ = 1024


class Refused(Exception):
    """We do not post there; the text says why."""


class _Http(HTTPConnection):
    """A connection to one looked-up address."""

    to = ""

    def connect(self) -> None:
        """Connect to the address that was looked at."""
        self.sock = socket.create_connection((self.to, self.port), self.timeout)


class _Https(HTTPSConnection):
    """The same, with the certificate checked against the name."""

    to = ""

    def connect(self) -> None:
        """Connect to the address that was looked at."""
        plain = socket.create_connection((self.to, self.port), self.timeout)
        context = ssl.create_default_context()
        self.sock = context.wrap_socket(plain, server_hostname=self.host)


def address_check(url: str) -> SplitResult:
    """Refuse an address that is no web address, or not a protected one where the public net is meant.

    Raises:
        Refused: saying why.
    """
    parts = urlsplit(url)
    if parts.scheme not in {"http", "https"} or not parts.hostname or parts.username:
        raise Refused("It is no plain web address.")
    if parts.scheme != "https" and not settings.WEBHOOK_PRIVATE:
        raise Refused("Only https addresses are posted to.")
    return parts


def looked_up(host: str, port: int) -> str:
    """Find the address of a name; every address that it has must be a public one.

    Raises:
        Refused: it has none, or one of the house's own network.
    """
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except OSError as error:
        raise Refused(f"{host} has no address: {error}.") from error
    addresses = [str(one[4][0]) for one in found]
    for one in addresses if not settings.WEBHOOK_PRIVATE else ():
        ip = ipaddress.ip_address(one.partition("%")[0])
        ip = getattr(ip, "ipv4_mapped", None) or ip
        if not ip.is_global or ip.is_multicast:
            raise Refused(f"{host} leads to {one}, which is not on the public net.")
    return addresses[0]


def post(url: str, body: bytes, headers: Mapping[str, str]) -> int:
    """Post a body; returns the status that was answered.

    Raises:
        Refused: we do not post there.
        OSError, HTTPException: nobody answered.
    """
    parts = address_check(url)
    port = parts.port or (443 if parts.scheme == "https" else 80)
    host = str(parts.hostname)
    kind = _Https if parts.scheme == "https" else _Http
    line = kind(host, port, timeout=TIMEOUT)
    line.to = looked_up(host, port)
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    try:
        line.request("POST", path, body, dict(headers))
        answer = line.getresponse()
        answer.read(MOST_READ)
        return answer.status
    finally:
        line.close()
