from dataclasses import replace

import pytest

from saltus.errors import RecordError
from saltus.web.records import EditedMeanwhile, change_record, record_of, restore_revision

pytestmark = pytest.mark.django_db


def renamed(record):
    return replace(record, person=replace(record.person, name="Ada Ilves-Holm"))


def test_a_change_keeps_the_comments_and_is_remembered(athlete, owner):
    changed = change_record(athlete, owner, renamed, what="name", revision=1)

    assert "# invented" in changed.text
    assert changed.name == "Ada Ilves-Holm"
    assert [(r.number, r.what, r.by) for r in changed.revisions.all()] == [
        (2, "name", owner),
        (1, "added", owner),
    ]


def test_two_people_editing_the_same_record_are_told(athlete, owner, editor):
    change_record(athlete, editor, renamed, what="name", revision=1)

    with pytest.raises(EditedMeanwhile, match="somebody else"):
        change_record(athlete, owner, renamed, what="name", revision=1)


def test_a_change_that_changes_nothing_is_no_revision(athlete, owner):
    change_record(athlete, owner, lambda record: record, what="nothing")

    assert athlete.revisions.count() == 1


def test_an_earlier_revision_can_be_had_back(athlete, owner):
    change_record(athlete, owner, renamed, what="name")

    restored = restore_revision(athlete, 1, owner)

    assert record_of(restored).person.name == "Ada Ilves"
    assert restored.revision == 3


def test_a_faulty_change_is_refused_and_nothing_is_lost(athlete, owner):
    def faulty(record):
        return replace(record, person=replace(record.person, stature_m=9.0))

    with pytest.raises(RecordError):
        change_record(athlete, owner, faulty, what="stature")
    athlete.refresh_from_db()
    assert athlete.revision == 1
