"""Addresses of the athlete's own page."""

from django.urls import path

from saltus.web.pocket import coach, enter, joining, own, phone, reading, sending

urlpatterns = [
    path("pocket/", phone.shell, name="pocket"),
    path("pocket/worker.js", phone.worker, name="pocket-worker"),
    path("pocket/manifest.webmanifest", phone.manifest, name="pocket-manifest"),
    path("pocket/bundle.json", sending.bundle_json, name="pocket-bundle"),
    path("pocket/entries/", sending.entries, name="pocket-entries"),
    path("pocket/enter/", enter.enter, name="pocket-enter"),
    path("pocket/results/", reading.results, name="pocket-results"),
    path("pocket/results/charts/<str:name>.json", reading.chart, name="pocket-chart"),
    path("pocket/plan/", reading.plan, name="pocket-plan"),
    path("pocket/settings/", own.settings_page, name="pocket-settings"),
    path("pocket/settings/password/", own.password, name="pocket-password"),
    path("pocket/settings/e-mail/", own.email, name="pocket-email"),
    path("pocket/settings/delete/", own.delete, name="pocket-delete"),
    path("join/<str:token>/", joining.join, name="athlete-invitation"),
    path("athletes/<uuid:athlete_id>/invite/", coach.invite, name="invite-athlete"),
    path(
        "athletes/<uuid:athlete_id>/invite/<int:invitation_id>.svg", coach.code, name="athlete-code"
    ),
    path(
        "athletes/<uuid:athlete_id>/invite/<int:invitation_id>/withdraw/",
        coach.withdraw,
        name="withdraw-athlete-invitation",
    ),
    path("athletes/<uuid:athlete_id>/invite/end/", coach.end_account, name="end-athlete-account"),
    path("athletes/<uuid:athlete_id>/log/", coach.log, name="log"),
]
