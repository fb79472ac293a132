import datetime as dt
import hashlib
import io
import json
import zipfile
from dataclasses import replace

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from saltus import record as records
from saltus.errors import SaltusError
from saltus.training.exercise_file import shipped_text
from saltus.web.archive.reading import import_archive
from saltus.web.archive.rows import APART
from saltus.web.archive.writing import MANIFEST, export_athlete, export_coach
from saltus.web.deletion import delete_account, purge_athlete, purge_expired
from saltus.web.models import (
    Athlete,
    AuditEntry,
    MethodCopy,
    MethodRevision,
    Revision,
    Squad,
    StoredAssessment,
    StoredPlan,
    StoredRecording,
    TestDay,
    User,
)
from saltus.web.records import add_athlete, change_record, folder_of

pytestmark = pytest.mark.django_db

RECORDING = b"time_s,force_n\n0,700\n0.001,701\n"
SHA256 = hashlib.sha256(RECORDING).hexdigest()
PLAN = {
    "athlete": "Ada Ilves",
    "start": "2026-11-02",
    "goal_date": "2027-04-17",
    "solver": {"status": "optimal", "gap": 0.0, "seconds": 1.5},
    "unmet": [],
    "weeks": [{"start": "2026-11-02", "phase": "strength", "sessions": []}],
}
LEFT_OUT = {
    "LogEntry": "Django's own",
    "Permission": "Django's own",
    "Group": "Django's own",
    "ContentType": "Django's own",
    "Session": "who is signed in here",
    "AccessAttempt": "wrong passwords here",
    "AccessAttemptExpiration": "wrong passwords here",
    "AccessLog": "wrong passwords here",
    "AccessFailureLog": "wrong passwords here",
    "Share": "other coaches have no account elsewhere",
    "Invitation": "a link to this place",
    "AthleteInvitation": "a link to this place",
    "AuditEntry": "written to be read; what was done here was not done elsewhere",
    "StoredAssessment": "written to be read; worked out anew from the record",
    "UnfinishedResult": "half-typed, of a test day that is going on",
    "PlanRun": "a plan that is being worked out here",
    "IncomingRecording": "uploaded and not given to anybody yet",
}


@pytest.fixture(autouse=True)
def _files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "athletes"


def renamed(record):
    return replace(record, person=replace(record.person, name="Ada Ilves-Holm"))


@pytest.fixture
def full(owner, squad, athlete, editor):
    """A coach with something of every kind."""
    text = shipped_text("method.toml")
    method = MethodCopy.objects.create(owner=owner, name="Ours", text=text, revision=3)
    MethodRevision.objects.create(method=method, number=3, text=text, what="phases")
    squad.method = method
    squad.save()
    owner.length_unit = "in"
    owner.save()
    change_record(athlete, owner, renamed, what="married")
    change_record(athlete, editor, lambda r: replace(r, goal=None), what="no goal")
    athlete.refresh_from_db()
    athlete.health_shared = True
    athlete.save()
    folder = folder_of(athlete) / "recordings"
    folder.mkdir(parents=True)
    (folder / f"{SHA256}.csv").write_bytes(RECORDING)
    StoredRecording.objects.create(
        athlete=athlete,
        name="jump 1; rm -rf.csv",
        sha256=SHA256,
        suffix=".csv",
        size=len(RECORDING),
        date=dt.date(2026, 10, 5),
        analysis={"jumps": [{"kind": "cmj", "höhe": 0.31}]},
        decisions={"1": {"keep": False, "why": "sneezed"}},
        by=editor,
    )
    for number in (1, 2):
        StoredPlan.objects.create(
            athlete=athlete,
            number=number,
            plan=PLAN | {"number": number},
            changes=["moved"],
            accepted=timezone.now() if number == 1 else None,
            made_from_revision=1,
            by=owner,
        )
    # In bulk: nothing is told of what no assessment says.
    StoredAssessment.objects.bulk_create(
        [StoredAssessment(athlete=athlete, inputs="x", document={"jump": 0.31}, draws=b"\0")]
    )
    day = TestDay.objects.create(
        squad=squad, date=dt.date(2026, 10, 5), title="Autumn", tests=[{"kind": "jump"}], by=owner
    )
    day.athletes.add(athlete)
    add_athlete(squad, athlete.text, owner, group="juniors")
    Squad.objects.create(owner=owner, name="Empty one")
    return owner


def exported_coach(user):
    file = io.BytesIO()
    export_coach(user, file)
    file.seek(0)
    return file


def exported_athlete(athlete, user):
    file = io.BytesIO()
    export_athlete(athlete, user, file)
    file.seek(0)
    return file


def contents(file):
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        inside = {name: archive.read(name) for name in archive.namelist()}
    del inside[MANIFEST], inside["actions.json"]  # when, and what was done here
    return inside


def test_everything_of_a_coach_goes_out_and_comes_in_with_nothing_lost(full):
    out = exported_coach(full)
    before = contents(out)
    delete_account(full)
    assert not Athlete.objects.exists()
    back = User.objects.create_user("olga@example.org", "a long enough phrase", name="Olga")

    import_archive(out, back, None)

    after = contents(exported_coach(back))
    about = {n for n in before if n.endswith("/assessment.json")}
    assert set(before) - set(after) == about == {n for n in about if "ada" in n}
    for name in set(before) - about:
        assert after[name] == before[name], name


def test_what_goes_out_is_open_and_can_be_used_as_it_is(full, tmp_path):
    with zipfile.ZipFile(exported_coach(full)) as archive:
        archive.extractall(tmp_path)
    folder = tmp_path / "athletes" / "1-ada-ilves-holm"

    assert records.read(folder / "record.toml").person.name == "Ada Ilves-Holm"
    assert (folder / "recordings" / f"{SHA256}.csv").read_bytes() == RECORDING
    assert json.loads((folder / "about" / "plans" / "00002.json").read_text())["number"] == 2
    assert "# invented" in (folder / "about" / "revisions" / "00001.toml").read_text()
    assert json.loads((folder / "about" / "assessment.json").read_text()) == {"jump": 0.31}
    assert json.loads((tmp_path / "account.json").read_text())["length_unit"] == "in"
    assert "password" not in (tmp_path / "account.json").read_text()


def test_one_athlete_goes_to_another_coach(full, athlete, outsider):
    athlete.refresh_from_db()
    squad = outsider.squads.get()

    imported = import_archive(exported_athlete(athlete, full), outsider, squad)

    (copy,) = imported.athletes
    assert copy.pk != athlete.pk
    copy.refresh_from_db()
    assert (copy.text, copy.revision, copy.group) == (athlete.text, 3, "seniors")
    assert [(r.number, r.what, r.by, r.by_name, r.at) for r in copy.revisions.all()] == [
        (r.number, r.what, None, r.by.name, r.at) for r in athlete.revisions.all()
    ]
    assert copy.recordings.get().decisions == {"1": {"keep": False, "why": "sneezed"}}
    assert copy.plans.count() == 2
    assert copy.test_days.get().title == "Autumn"
    assert (folder_of(copy) / "recordings" / f"{SHA256}.csv").read_bytes() == RECORDING
    assert outsider.methods.get().text == shipped_text("method.toml")
    # Told twice, a test day and a method are still one.
    import_archive(exported_athlete(athlete, full), outsider, squad)
    assert squad.test_days.count() == outsider.methods.count() == 1


def test_addresses_of_others_stay_here(full, athlete, editor, outsider):
    for file in (exported_coach(full), exported_athlete(athlete, full)):
        assert all(editor.email.encode() not in data for data in _all(file).values())


def _all(file):
    with zipfile.ZipFile(file) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def changed(file, changes, raw=()):
    """The same zip with other contents under some names."""
    inside = _all(file) | changes
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        for name, data in [*inside.items(), *raw]:
            archive.writestr(name, data)
    made.seek(0)
    return made


@pytest.mark.parametrize(
    ("changes", "raw", "said"),
    [
        ({MANIFEST: b"{}"}, (), "newer Saltus"),
        ({MANIFEST: b"\xff"}, (), "damaged"),
        ({"squads/1/about.json": b'{"name": 1, "athletes": ["../../x"]}'}, (), "no name"),
        ({"squads/1/test-days.json": b'[{"date": "x", "athletes": []}]'}, (), "date is not as"),
        ({"squads/1/about.json": b'{"name": "a", "athletes": {}}'}, (), "athletes is not as"),
        ({"squads/1/test-days.json": b"["}, (), "damaged"),
        ({"athletes/ada-ilves-holm/record.toml": b"nonsense"}, (), "record.toml"),
        ({"athletes/ada-ilves-holm/about/athlete.json": b"{}"}, (), "revisions is not as"),
        ({}, [("athletes/ada-ilves-holm/../../x", b"")], "no name"),
        ({}, [("athletes/ada-ilves-holm/.hidden", b"")], "no name"),
        ({"athletes/ada-ilves-holm/about/plans/00001.json": b"{}"}, (), "00001.json"),
        ({"methods/1/method.toml": b"name = 3"}, (), "method.toml"),
        (
            {f"athletes/ada-ilves-holm/recordings/{SHA256}.csv": b"another"},
            (),
            "is missing",
        ),
    ],
)
def test_a_file_that_was_tampered_with_brings_nothing_in(
    full, athlete, outsider, settings, changes, raw, said
):
    athlete.refresh_from_db()
    file = changed(exported_athlete(athlete, full), changes, raw)
    count = Athlete.objects.count()
    folders = set(settings.MEDIA_ROOT.iterdir())

    with pytest.raises(SaltusError, match=said):
        import_archive(file, outsider, outsider.squads.get())

    assert Athlete.objects.count() == count
    assert not outsider.methods.exists()
    assert set(settings.MEDIA_ROOT.iterdir()) == folders


def test_a_recording_cannot_be_given_a_path_for_a_name(full, athlete, outsider):
    athlete.refresh_from_db()
    file = exported_athlete(athlete, full)
    name = "athletes/ada-ilves-holm/about/athlete.json"
    about = json.loads(_all(file)[name])
    about["recordings"][0]["suffix"] = "/../../x"

    with pytest.raises(SaltusError):
        import_archive(
            changed(file, {name: json.dumps(about).encode()}), outsider, outsider.squads.get()
        )


@pytest.mark.parametrize("data", [b"", b"no zip", b"PK\x03\x04 but no more"])
def test_what_is_no_zip_is_told_so(outsider, data):
    with pytest.raises(SaltusError, match="no zip file"):
        import_archive(io.BytesIO(data), outsider, outsider.squads.get())


def test_every_model_is_carried_along_or_left_out_for_a_reason():
    known = {model.__name__ for model in APART} | {"Athlete"} | set(LEFT_OUT)
    models = {model.__name__ for model in apps.get_models()}

    assert models <= known


def test_the_page_gives_and_takes(coach, owner, full, athlete):
    assert coach.get("/settings/data/").status_code == 200
    answer = coach.get("/settings/data/everything.zip")
    data = b"".join(answer.streaming_content)
    one = coach.get(f"/settings/data/athletes/{athlete.pk}.zip")
    assert zipfile.is_zipfile(io.BytesIO(b"".join(one.streaming_content)))

    coach.post("/settings/data/import/", {"file": SimpleUploadedFile("x.zip", data)})

    assert Squad.objects.filter(owner=owner, name="Fjord Jumpers").count() == 2
    actions = list(AuditEntry.objects.values_list("action", flat=True))
    assert actions.count("exported") == 2
    assert "imported" in actions


def test_a_record_at_fault_is_told_where_it_was_sent(coach, full, athlete, squad):
    athlete.refresh_from_db()
    name = "athletes/ada-ilves-holm/record.toml"
    spoilt = _all(exported_athlete(athlete, full))[name].replace(b"sex = ", b"sexx = ")
    file = changed(exported_athlete(athlete, full), {name: spoilt})
    answer = coach.post(
        "/settings/data/import/",
        {"file": SimpleUploadedFile("x.zip", file.read()), "squad": squad.pk},
    )
    assert answer.status_code == 422
    (told,) = answer.context["form"].errors["file"]
    assert name in told
    assert "sexx" in told
    assert "Nothing was imported." in told


def test_health_remarks_leave_only_with_the_owner(client_of, editor, athlete):
    assert client_of(editor).get(f"/settings/data/athletes/{athlete.pk}.zip").status_code == 404


def test_deleting_for_good_leaves_nothing(
    coach, full, athlete, settings, django_capture_on_commit_callbacks
):
    page = f"/settings/data/deleted/{athlete.pk}/purge/"
    assert coach.get(page).status_code == 404, "first it has to be deleted"
    AuditEntry.objects.create(by=full, action="athlete_deleted", athlete=athlete)
    Athlete.objects.filter(pk=athlete.pk).update(deleted=timezone.now())
    assert coach.get(page).status_code == 200
    folder = folder_of(athlete)
    assert folder.exists()

    with django_capture_on_commit_callbacks(execute=True):
        coach.post(page)

    assert not folder.exists()
    assert not Athlete.objects.filter(pk=athlete.pk).exists()
    for model in (Revision, StoredPlan, StoredRecording, AuditEntry):
        assert not model.objects.filter(athlete_id=athlete.pk).exists()
    assert AuditEntry.objects.filter(action="athlete_purged").count() == 1


def test_after_thirty_days_the_deleted_are_gone(athlete, owner):
    now = timezone.now()
    Athlete.objects.update(deleted=now - dt.timedelta(days=29))
    assert purge_expired() == 0

    Athlete.objects.update(deleted=now - dt.timedelta(days=31))
    assert purge_expired() == 1
    assert not Athlete.objects.exists()


def test_an_account_is_deleted_with_everything_that_is_its_own(
    coach, full, squad, outsider, settings, django_capture_on_commit_callbacks
):
    theirs = add_athlete(outsider.squads.get(), Athlete.objects.first().text, full)
    with django_capture_on_commit_callbacks(execute=True):
        coach.post("/settings/account/delete/", {"password": "a long enough phrase"})

    assert not User.objects.filter(pk=full.pk).exists()
    assert list(Athlete.objects.all()) == [theirs]
    assert theirs.revisions.get().by is None
    assert not MethodCopy.objects.exists()
    assert list(settings.MEDIA_ROOT.iterdir()) == []
    assert coach.get("/settings/").status_code == 302


def test_purging_is_noted_without_a_name(athlete, owner):
    purge_athlete(athlete, owner)

    entry = AuditEntry.objects.get()
    assert (entry.action, entry.athlete, entry.detail) == ("athlete_purged", None, "")


def test_who_did_what_is_told_to_the_owner(coach, full, editor, client_of):
    page = coach.get("/settings/history/").text

    assert "married" in page
    assert "Egil" in page
    assert "married" not in client_of(editor).get("/settings/history/").text
