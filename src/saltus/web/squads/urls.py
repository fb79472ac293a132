"""Addresses of the squad."""

from django.urls import path

from saltus.web.squads import adding, importing, views

urlpatterns = [
    path("", views.squad, name="squad"),
    path("squad/rows/", views.rows, name="squad-rows"),
    path("squad/ticked/", views.ticked, name="squad-ticked"),
    path("squad/add/", adding.add, name="athlete-add"),
    path("squad/import/", importing.start, name="squad-import"),
    path("squad/import/spreadsheet/", importing.sheet, name="squad-import-sheet"),
    path("squad/import/records/", importing.records, name="squad-import-records"),
    path("squad/deleted/", views.deleted, name="squad-deleted"),
    path("squad/bring-back/", views.bring_back, name="squad-bring-back"),
]
