"""What makes the page of an athlete an application on a phone: its shell, worker and manifest.

The worker keeps the shell and its files under a name that changes with any of them, so that a
phone never mixes two versions of the page.
"""

import hashlib
import json
from pathlib import Path

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_safe

from saltus.web.access import user_of

__all__ = ["manifest", "shell", "worker"]

_MODULES = (
    "after",
    "agree",
    "answers",
    "before",
    "exercise",
    "free",
    "home",
    "leaving",
    "main",
    "overview",
    "page",
    "places",
    "queue",
    "rest",
    "session",
    "sheets",
    "sign_out",
    "store",
    "told",
    "units",
)
_FILES = (
    "saltus/saltus.css",
    "saltus/mark.svg",
    "saltus/pocket/pocket.css",
    "saltus/pocket/icon-180.png",
    "saltus/pocket/icon-192.png",
    *(f"saltus/pocket/{name}.js" for name in _MODULES),
)
_WORKER = "saltus/pocket/worker.js"
_PAPER = "#fdfdfb"


def _links() -> list[dict[str, str]]:
    """Pages of the athlete's own that the phone keeps for reading."""
    return [
        {"url": reverse("pocket-results"), "title": _("My results")},
        {"url": reverse("pocket-plan"), "title": _("My plan")},
    ]


def _shell_text() -> str:
    """The page without anything of a person's, so that a phone may keep it for anybody."""
    links = _links()
    return render_to_string(
        "pocket/shell.html",
        {
            "csrf_cookie": settings.CSRF_COOKIE_NAME,
            "links": links,
            "pages": " ".join(link["url"] for link in links),
        },
    )


@login_required
@require_safe
@never_cache
@ensure_csrf_cookie
def shell(request: HttpRequest) -> HttpResponse:
    """The page itself; the phone's script fills it."""
    user = user_of(request)
    if user.is_coach and not hasattr(user, "athlete"):
        return redirect("squad")
    return HttpResponse(_shell_text())


@require_safe
def worker(_request: HttpRequest) -> HttpResponse:
    """The worker that opens the page without a signal, told what to keep."""
    version = hashlib.sha256((get_language() + _shell_text()).encode())
    for name in (*_FILES, _WORKER):
        version.update(_read(name))
    kept = {
        "version": version.hexdigest()[:16],
        "page": reverse("pocket"),
        "files": [static(name) for name in _FILES],
    }
    text = f"const SHELL = {json.dumps(kept)};\n{_read(_WORKER).decode()}"
    answer = HttpResponse(text, content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    answer["Service-Worker-Allowed"] = reverse("pocket")
    return answer


@require_safe
def manifest(_request: HttpRequest) -> JsonResponse:
    """What a phone needs to put the page on its home screen (W3C, Web Application Manifest)."""
    icons = [(192, "any", "icon-192"), (512, "any", "icon-512"), (512, "maskable", "icon-mask-512")]
    return JsonResponse(
        {
            "id": reverse("pocket"),
            "name": _("Saltus: my training"),
            "short_name": "Saltus",
            "description": _("Today's session, also without a signal."),
            "lang": get_language(),
            "start_url": reverse("pocket"),
            "scope": reverse("pocket"),
            "display": "standalone",
            "background_color": _PAPER,
            "theme_color": _PAPER,
            "icons": [
                {
                    "src": static(f"saltus/pocket/{name}.png"),
                    "sizes": f"{size}x{size}",
                    "type": "image/png",
                    "purpose": purpose,
                }
                for size, purpose, name in icons
            ],
        },
        content_type="application/manifest+json",
    )


def _read(name: str) -> bytes:
    found = finders.find(name)
    if found is None:
        raise FileNotFoundError(name)
    return Path(found).read_bytes()
