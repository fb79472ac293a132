"""Addresses of the record: its parts, its text, its history."""

from django.urls import path

from saltus.web.editing import adding, history, views

urlpatterns = [
    path("athletes/<uuid:athlete_id>/record/", views.record, name="record"),
    path("athletes/<uuid:athlete_id>/record/text/", history.text, name="record-text"),
    path("athletes/<uuid:athlete_id>/record/history/", history.revisions, name="record-history"),
    path(
        "athletes/<uuid:athlete_id>/record/history/<int:number>/",
        history.revision,
        name="record-revision",
    ),
    path("athletes/<uuid:athlete_id>/record/test/add/", adding.choose_test, name="test-choose"),
    path(
        "athletes/<uuid:athlete_id>/record/test/add/<slug:kind>/", adding.add_test, name="test-add"
    ),
    path("athletes/<uuid:athlete_id>/record/<slug:table>/", views.part, name="record-part"),
    path("athletes/<uuid:athlete_id>/record/<slug:table>/add/", views.add_row, name="record-add"),
    path(
        "athletes/<uuid:athlete_id>/record/<slug:table>/<int:index>/",
        views.edit_row,
        name="record-row",
    ),
    path(
        "athletes/<uuid:athlete_id>/record/<slug:table>/<int:index>/remove/",
        views.remove_row,
        name="record-remove",
    ),
]
