"""Name, units and language."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import translation
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from saltus.web.access import user_of
from saltus.web.preferences.forms import YouForm

__all__ = ["settings_page"]


@login_required
@require_http_methods(["GET", "POST"])
def settings_page(request: HttpRequest) -> HttpResponse:
    """How things are told to this person."""
    user = user_of(request)
    form = YouForm(request.POST or None, instance=user)
    if request.method == "POST" and form.is_valid():
        form.save()
        # The answer already comes in the new language.
        with translation.override(user.language or translation.get_language()):
            messages.success(request, _("Saved."))
        return redirect("settings")
    if request.method == "POST":
        user.refresh_from_db()
    return render(request, "preferences/settings.html", {"form": form})
