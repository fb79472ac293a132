"""Addresses of one athlete."""

from django.urls import path

from saltus.web.athletes import views

urlpatterns = [
    path("athletes/<uuid:athlete_id>/", views.athlete, name="athlete"),
    path("athletes/<uuid:athlete_id>/assessment/", views.assessment, name="athlete-assessment"),
    path("athletes/<uuid:athlete_id>/what-if/", views.what_if, name="athlete-what-if"),
    path("athletes/<uuid:athlete_id>/charts/<str:name>.json", views.chart, name="athlete-chart"),
    path("athletes/<uuid:athlete_id>/tables/<str:name>/", views.table, name="athlete-table"),
    path("athletes/<uuid:athlete_id>/tests/", views.tests, name="athlete-tests"),
]
