"""How is a picture given out? As SVG at its own address, with nothing in it that could run."""

from django.http import HttpResponse


def picture(svg: str) -> HttpResponse:
    """Answer with one SVG."""
    response = HttpResponse(svg, content_type="image/svg+xml; charset=utf-8")
    response["Content-Security-Policy"] = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
    response["X-Content-Type-Options"] = "nosniff"
    return response
