"""People at a browser log in with a session; its cookie needs the CSRF token on writes."""

from rest_framework import authentication


class SessionAuthentication(authentication.SessionAuthentication):
    """The framework's session, answering 401 with a challenge of its own when nobody is logged in."""

    def authenticate_header(self, request: object) -> str:
        """Name the challenge, so that a missing login is a 401."""
        return 'Session realm="office"'
