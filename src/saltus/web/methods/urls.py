"""Addresses of methods."""

from django.urls import path

from saltus.web.methods import history, reading, tables, views

urlpatterns = [
    path("methods/", reading.index, name="methods"),
    path("methods/shipped/", reading.method, name="shipped-method"),
    path("methods/shipped/file/", views.download_shipped, name="shipped-method-file"),
    path("methods/shipped/exercises/", reading.exercises, name="shipped-exercises"),
    path(
        "methods/shipped/exercises/<slug:exercise_id>/", reading.exercise, name="shipped-exercise"
    ),
    path("methods/copy/", views.copy, name="copy-shipped-method"),
    path("methods/bring-in/", views.bring_in, name="bring-in-method"),
    path("methods/of/<int:squad_id>/", views.choose, name="choose-method"),
    path("methods/<int:method_id>/", reading.method, name="method"),
    path("methods/<int:method_id>/copy/", views.copy, name="copy-method"),
    path("methods/<int:method_id>/name/", views.rename, name="rename-method"),
    path("methods/<int:method_id>/text/", views.text, name="method-text"),
    path("methods/<int:method_id>/history/", history.revisions, name="method-history"),
    path(
        "methods/<int:method_id>/history/<int:number>/",
        history.revision,
        name="method-revision",
    ),
    path("methods/<int:method_id>/file/", views.download, name="method-file"),
    path("methods/<int:method_id>/delete/", views.delete, name="delete-method"),
    path("methods/<int:method_id>/bring-back/", views.bring_back, name="bring-back-method"),
    path("methods/<int:method_id>/exercises/", reading.exercises, name="method-exercises"),
    path("methods/<int:method_id>/exercises/another/", tables.add_exercise, name="add-exercise"),
    path(
        "methods/<int:method_id>/exercises/<slug:exercise_id>/",
        reading.exercise,
        name="method-exercise",
    ),
    path(
        "methods/<int:method_id>/exercises/<slug:exercise_id>/change/",
        tables.exercise,
        name="change-exercise",
    ),
    path(
        "methods/<int:method_id>/exercises/<slug:exercise_id>/reset/",
        tables.reset_exercise,
        name="reset-exercise",
    ),
    path("methods/<int:method_id>/rules/another/", tables.add_rule, name="add-rule"),
    path("methods/<int:method_id>/rules/<slug:rule_id>/", tables.rule, name="method-rule"),
    path("methods/<int:method_id>/phases/<int:index>/", tables.phase, name="method-phase"),
    path("methods/<int:method_id>/phases/<int:index>/another/", tables.add_phase, name="add-phase"),
    path("methods/<int:method_id>/parts/<slug:section>/", tables.section, name="method-section"),
    path(
        "methods/<int:method_id>/parts/<slug:section>/another/",
        tables.add_entry,
        name="add-method-entry",
    ),
    path(
        "methods/<int:method_id>/parts/<slug:section>/<int:index>/",
        tables.entry,
        name="method-entry",
    ),
    path(
        "methods/<int:method_id>/parts/<slug:section>/<int:index>/remove/",
        tables.remove_entry,
        name="remove-method-entry",
    ),
]
