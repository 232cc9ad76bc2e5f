"""The door for people at a browser; a password may be tried only so often."""

from typing import Any

from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser
from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse

from contractor.api.limits import count
from contractor.api.problems import plain


class DeskLogin(LoginView):
    """Log in with login name and password."""

    template_name = "login.html"
    redirect_authenticated_user = True
    extra_context = {"firm": settings.FIRM["name"], "name": "Log in"}

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Count the tries of this name from this address before looking at the password."""
        login = AbstractBaseUser.normalize_username(request.POST.get("username", "").strip())
        who = f"login:{request.META.get('REMOTE_ADDR')}:{login[:60]}"
        passes, _, seconds = count(who, settings.LOGIN_LIMIT_PER_MINUTE)
        if not passes:
            answer = plain(
                request,
                "too_many_tries",
                "Too many tries.",
                429,
                f"Wait {int(seconds) + 1} seconds.",
            )
            answer["Retry-After"] = str(int(seconds) + 1)
            return answer
        return super().post(request, *args, **kwargs)
