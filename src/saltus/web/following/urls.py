"""Addresses of what follows an athlete."""

from django.urls import path

from saltus.web.following import views

_FOLLOW = "athletes/<uuid:athlete_id>/follow/"

urlpatterns = [
    path(_FOLLOW, views.follow, name="follow"),
    path(f"{_FOLLOW}charts/<str:name>.json", views.chart, name="follow-chart"),
    path(f"{_FOLLOW}plan-again/", views.plan_again, name="follow-plan-again"),
]
