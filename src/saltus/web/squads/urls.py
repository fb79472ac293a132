"""Addresses of the squad."""

from django.urls import path

from saltus.web.squads import views

urlpatterns = [path("", views.squad, name="squad")]
