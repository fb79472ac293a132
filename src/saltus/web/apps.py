"""The one Django application."""

from django.apps import AppConfig

__all__ = ["WebConfig"]


class WebConfig(AppConfig):
    """Saltus on a page."""

    name = "saltus.web"
    label = "web"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Have summaries follow what they tell of."""
        from django.db.models.signals import post_delete, post_save

        from saltus.web import summaries
        from saltus.web.models import IncomingRecording, Revision, StoredAssessment, StoredPlan
        from saltus.web.testdays import waiting

        post_save.connect(summaries.on_revision, sender=Revision)
        post_save.connect(summaries.on_plan, sender=StoredPlan)
        post_save.connect(summaries.on_assessment, sender=StoredAssessment)
        post_delete.connect(waiting.on_delete, sender=IncomingRecording)
