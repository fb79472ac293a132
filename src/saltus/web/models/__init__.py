"""What is kept. An athlete's truth is the text of their record; the rest is derived or by it."""

from saltus.web.models.assessment import StoredAssessment
from saltus.web.models.athlete import Athlete, Revision
from saltus.web.models.audit import AuditEntry
from saltus.web.models.invitation import Invitation
from saltus.web.models.method import MethodCopy, MethodRevision
from saltus.web.models.plan import PlanRun, StoredPlan
from saltus.web.models.pocket import AthleteInvitation, PocketEntry
from saltus.web.models.recording import IncomingRecording, StoredRecording
from saltus.web.models.squad import Share, Squad
from saltus.web.models.testday import TestDay, UnfinishedResult
from saltus.web.models.user import User

__all__ = [
    "Athlete",
    "AthleteInvitation",
    "AuditEntry",
    "IncomingRecording",
    "Invitation",
    "MethodCopy",
    "MethodRevision",
    "PlanRun",
    "PocketEntry",
    "Revision",
    "Share",
    "Squad",
    "StoredAssessment",
    "StoredPlan",
    "StoredRecording",
    "TestDay",
    "UnfinishedResult",
    "User",
]
