"""A copy of the method remembers what it said, and says it again."""

import io

import pytest

from saltus.web.archive.reading import import_archive
from saltus.web.archive.writing import export_coach
from saltus.web.methods.copies import make_copy
from saltus.web.models import MethodCopy, User

pytestmark = pytest.mark.django_db


@pytest.fixture
def copy(owner):
    return make_copy(owner, "Ours")


def rename(client, copy, name):
    copy.refresh_from_db()
    return client.post(f"/methods/{copy.pk}/name/", {"name": name, "revision": copy.revision})


def test_each_change_is_kept_with_what_it_changed(coach, copy):
    assert rename(coach, copy, "Winter").status_code == 302

    copy.refresh_from_db()
    assert [(r.number, r.what) for r in copy.revisions.all()] == [(2, "Name: Winter"), (1, "made")]
    page = coach.get(f"/methods/{copy.pk}/history/").content.decode()
    assert "Name: Winter" in page
    page = coach.get(f"/methods/{copy.pk}/history/2/").content.decode()
    assert "+name = &quot;Winter&quot;" in page
    assert "Nothing: the method says the same today." in page


def test_a_revision_can_be_had_back(coach, copy):
    was = copy.text
    rename(coach, copy, "Winter")
    copy.refresh_from_db()

    answer = coach.post(f"/methods/{copy.pk}/history/1/", {"revision": copy.revision})

    assert answer.status_code == 302
    copy.refresh_from_db()
    assert (copy.text, copy.name, copy.revision) == (was, "Ours", 3)
    assert copy.revisions.first().what == "back to revision 1"


def test_somebody_who_changed_it_meanwhile_is_not_overwritten(coach, copy):
    rename(coach, copy, "Winter")

    assert coach.post(f"/methods/{copy.pk}/history/1/", {"revision": 1}).status_code == 409
    assert MethodCopy.objects.get().name == "Winter"
    assert coach.get(f"/methods/{copy.pk}/history/9/").status_code == 404


def test_the_history_goes_along_with_an_export(coach, owner, copy, tmp_path, settings):
    settings.MEDIA_ROOT = tmp_path
    rename(coach, copy, "Winter")
    file = io.BytesIO()
    export_coach(owner, file)
    other = User.objects.create_user("other@example.org", "long enough for it", name="Other")

    import_archive(io.BytesIO(file.getvalue()), other, None)

    theirs = MethodCopy.objects.get(owner=other)
    told = ("number", "text", "what", "at")
    assert list(theirs.revisions.values(*told)) == list(copy.revisions.values(*told))
