"""The one Django application."""

from django.apps import AppConfig

__all__ = ["WebConfig"]


class WebConfig(AppConfig):
    """Saltus on a page."""

    name = "saltus.web"
    label = "web"
    default_auto_field = "django.db.models.BigAutoField"
