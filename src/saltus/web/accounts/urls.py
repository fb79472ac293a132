"""Addresses of accounts."""

from django.conf import settings
from django.contrib.auth.views import LogoutView
from django.urls import path

from saltus.web.accounts import one_time, views

urlpatterns = [
    path("sign-in/", views.SignIn.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("welcome/", views.first_account, name="first-account"),
    path("invitation/<str:token>/", views.invitation, name="invitation"),
]
if settings.DEMO:
    urlpatterns += [path("once/<str:token>/", one_time.one_time, name="one-time")]
