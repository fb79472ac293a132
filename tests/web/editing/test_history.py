import pytest

from saltus.web.models import Athlete
from saltus.web.records import change_text

pytestmark = pytest.mark.django_db


def html(answer):
    return " ".join(answer.content.decode().split())


def at(athlete, rest=""):
    return f"/athletes/{athlete.pk}/record/{rest}"


def test_the_text_is_saved_as_typed(coach, athlete):
    text = athlete.text.replace("178", "179") + "# a comment of mine\n"

    answer = coach.post(
        at(athlete, "text/"),
        {"revision": 1, "text": text.replace("\n", "\r\n"), "what": "grew"},
    )

    assert answer.status_code == 302
    saved = Athlete.objects.get()
    assert saved.text == text
    assert saved.revisions.first().what == "grew"


def test_faults_are_told_by_line_and_nothing_is_lost(coach, athlete):
    text = athlete.text.replace("stature_cm = 178", "stature_cm = 17")

    answer = coach.post(at(athlete, "text/"), {"revision": 1, "text": text})

    page = html(answer)
    assert answer.status_code == 422
    assert "line 7, athlete.stature_cm" in page
    assert "<code>stature_cm = 17</code>" in page
    assert Athlete.objects.get().text == athlete.text
    assert "stature_cm = 17" in answer.context["form"]["text"].value()


def test_history_shows_who_did_what_and_brings_it_back(coach, athlete, owner):
    grown = athlete.text.replace("178", "179")
    change_text(athlete, owner, grown, what="grew", revision=1)

    page = html(coach.get(at(athlete, "history/")))
    assert "grew" in page
    assert "Olga" in page

    old = html(coach.get(at(athlete, "history/1/")))
    assert '<span class="removed">-stature_cm = 178</span>' in old
    assert '<span class="added">+stature_cm = 179</span>' in old

    coach.post(at(athlete, "history/1/"), {"revision": 2})
    back = Athlete.objects.get()
    assert back.text == athlete.text
    assert back.revision == 3


def test_restoring_minds_others(coach, athlete, owner):
    change_text(athlete, owner, athlete.text.replace("178", "179"), what="grew", revision=1)

    assert coach.post(at(athlete, "history/1/"), {"revision": 1}).status_code == 409
    assert coach.get(at(athlete, "history/9/")).status_code == 404


def test_the_text_minds_others(coach, athlete, owner):
    change_text(athlete, owner, athlete.text.replace("178", "179"), what="grew", revision=1)

    answer = coach.post(at(athlete, "text/"), {"revision": 1, "text": athlete.text + "# x\n"})
    assert answer.status_code == 409
