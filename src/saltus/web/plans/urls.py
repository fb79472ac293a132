"""Addresses of plans."""

from django.urls import path

from saltus.web.plans import asking, calendar, earlier, edits, views

_PLAN = "athletes/<uuid:athlete_id>/plan/"

urlpatterns = [
    path(_PLAN, views.page, name="plan"),
    path(f"{_PLAN}print/", views.printed, name="plan-print"),
    path(f"{_PLAN}new/", asking.new, name="plan-new"),
    path(f"{_PLAN}progress/", asking.progress, name="plan-progress"),
    path(f"{_PLAN}stop/", asking.stop_run, name="plan-stop"),
    path(f"{_PLAN}<int:number>/again/", asking.again, name="plan-again"),
    path(f"{_PLAN}<int:number>/accept/", asking.accept_plan, name="plan-accept"),
    path(f"{_PLAN}<int:number>/decline/", asking.decline_plan, name="plan-decline"),
    path(f"{_PLAN}<int:number>/move/", edits.move, name="plan-move"),
    path(f"{_PLAN}<int:number>/swap/", edits.swap, name="plan-swap"),
    path(f"{_PLAN}<int:number>/let-go/", edits.let_go, name="plan-let-go"),
    path(f"{_PLAN}earlier/", earlier.earlier, name="earlier-plans"),
    path(f"{_PLAN}earlier/<int:number>/", earlier.earlier_plan, name="earlier-plan"),
    path(f"{_PLAN}earlier/<int:number>/compare/", earlier.compared, name="compare-plan"),
    path(f"{_PLAN}calendar/", calendar.calendar, name="plan-calendar"),
    path(f"{_PLAN}calendar/block/", calendar.block, name="plan-block"),
    path(f"{_PLAN}calendar/sport/", calendar.sport, name="plan-sport"),
    path(f"{_PLAN}calendar/minutes/", calendar.minutes, name="plan-minutes"),
    path(f"{_PLAN}calendar/remove/", calendar.remove, name="plan-calendar-remove"),
]
