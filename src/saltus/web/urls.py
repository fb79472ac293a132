"""Every address; the file reads as a site map."""

from django.urls import include, path

urlpatterns = [
    path("", include("saltus.web.accounts.urls")),
    path("", include("saltus.web.squads.urls")),
    path("", include("saltus.web.athletes.urls")),
    path("", include("saltus.web.preferences.urls")),
    path("", include("saltus.web.editing.urls")),
    path("", include("saltus.web.following.urls")),
    path("", include("saltus.web.pocket.urls")),
    path("", include("saltus.web.testdays.urls")),
    path("", include("saltus.web.plans.urls")),
    path("", include("saltus.web.methods.urls")),
]
