"""Addresses of test days and of recordings."""

from django.urls import path

from saltus.web.testdays import entry, folder, recordings, views

urlpatterns = [
    path("test-days/", views.days, name="test-days"),
    path("test-days/new/", views.new, name="test-day-new"),
    path("test-days/<int:day_id>/", entry.grid, name="test-day"),
    path("test-days/<int:day_id>/set-up/", views.set_up, name="test-day-set-up"),
    path("test-days/<int:day_id>/delete/", views.delete, name="test-day-delete"),
    path("test-days/<int:day_id>/tests/", views.add_trial, name="test-day-add-test"),
    path(
        "test-days/<int:day_id>/tests/<slug:key>/move/",
        views.move_trial,
        name="test-day-move-test",
    ),
    path(
        "test-days/<int:day_id>/tests/<slug:key>/remove/",
        views.remove_trial,
        name="test-day-remove-test",
    ),
    path(
        "test-days/<int:day_id>/athletes/<uuid:athlete_id>/<slug:key>/",
        entry.one,
        name="test-day-one",
    ),
    path(
        "test-days/<int:day_id>/athletes/<uuid:athlete_id>/<slug:key>/save/",
        entry.save,
        name="test-day-save",
    ),
    path("test-days/<int:day_id>/recordings/", folder.uploads, name="test-day-recordings"),
    path(
        "test-days/<int:day_id>/recordings/save/", folder.save_all, name="test-day-recordings-save"
    ),
    path("athletes/<uuid:athlete_id>/recordings/", recordings.recordings, name="recordings"),
    path("recordings/<int:recording_id>/", recordings.recording, name="recording"),
    path("recordings/<int:recording_id>/file/", recordings.original, name="recording-file"),
    path("recordings/<int:recording_id>/read/", recordings.options, name="recording-options"),
    path("recordings/<int:recording_id>/remove/", recordings.remove, name="recording-remove"),
    path(
        "recordings/<int:recording_id>/figures/<int:number>/",
        recordings.figure,
        name="recording-figure",
    ),
    path(
        "recordings/<int:recording_id>/jumps/<int:number>/",
        recordings.decision,
        name="recording-decision",
    ),
    path("incoming/<uuid:incoming_id>/", recordings.incoming_options, name="incoming"),
    path(
        "incoming/<uuid:incoming_id>/discard/",
        recordings.incoming_discard,
        name="incoming-discard",
    ),
]
