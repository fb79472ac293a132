"""Addresses of the settings."""

from django.urls import path

from saltus.web.preferences import account, backup_pages, data, history, squads, views

urlpatterns = [
    path("settings/", views.settings_page, name="settings"),
    path("settings/e-mail/", account.email, name="change-email"),
    path("settings/password/", account.password, name="change-password"),
    path("settings/account/delete/", account.delete, name="delete-account"),
    path("settings/squads/", squads.squads, name="squads"),
    path("settings/squads/<int:squad_id>/", squads.squad, name="squad-settings"),
    path("settings/squads/<int:squad_id>/invite/", squads.invite, name="invite"),
    path(
        "settings/squads/<int:squad_id>/invitations/<int:invitation_id>/withdraw/",
        squads.withdraw,
        name="withdraw-invitation",
    ),
    path(
        "settings/squads/<int:squad_id>/shares/<int:share_id>/", squads.share, name="change-share"
    ),
    path(
        "settings/squads/<int:squad_id>/shares/<int:share_id>/end/",
        squads.end_share,
        name="end-share",
    ),
    path("settings/squads/<int:squad_id>/health/", squads.consent, name="health-consent"),
    path("settings/squads/<int:squad_id>/leave/", squads.leave, name="leave-squad"),
    path("settings/squads/<int:squad_id>/delete/", squads.delete, name="delete-squad"),
    path("settings/data/", data.data, name="data"),
    path("settings/data/everything.zip", data.export_coach, name="export-coach"),
    path(
        "settings/data/athletes/<uuid:athlete_id>.zip", data.export_athlete, name="export-athlete"
    ),
    path("settings/data/import/", data.import_file, name="import-data"),
    path("settings/data/deleted/<uuid:athlete_id>/purge/", data.purge, name="purge-athlete"),
    path("settings/history/", history.history, name="history"),
    path("settings/backups/", backup_pages.backups, name="backups"),
    path("settings/backups/make/", backup_pages.make, name="make-backup"),
    path("settings/backups/add/", backup_pages.add, name="add-backup"),
    path("settings/backups/<str:name>/", backup_pages.fetch, name="fetch-backup"),
    path("settings/backups/<str:name>/restore/", backup_pages.restore, name="restore-backup"),
    path("settings/backups/<str:name>/delete/", backup_pages.delete, name="delete-backup"),
]
