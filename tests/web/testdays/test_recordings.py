"""Recordings are read, matched, looked at, and kept or dropped."""

import json
from dataclasses import replace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from saltus.record.entries import RecordedTest
from saltus.web.assessments import assess_now
from saltus.web.athletes.about_now import about_now
from saltus.web.athletes.recording_names import with_names
from saltus.web.models import IncomingRecording, StoredRecording
from saltus.web.records import change_record, folder_of, record_of
from saltus.web.testdays.reading import in_page_words

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_process")]


def upload(client, athlete, *files, **more):
    data = {"date": "2026-10-20", "files": list(files), **more}
    return client.post(f"/athletes/{athlete.pk}/recordings/", data)


def recorded_tests(athlete):
    athlete.refresh_from_db()
    record = record_of(athlete, recordings=False)
    return [test for test in record.tests if isinstance(test, RecordedTest)]


@pytest.fixture
def stored(coach, athlete, recorded):
    upload(coach, athlete, recorded())
    return StoredRecording.objects.get()


def test_a_recording_goes_into_the_record_with_its_jump(coach, athlete, recorded):
    upload(coach, athlete, recorded("My jump.csv"))

    (test,) = recorded_tests(athlete)
    stored = StoredRecording.objects.get()
    assert stored.name == "My jump.csv"
    assert str(test.file) == f"recordings/{stored.sha256}.csv"
    assert (folder_of(athlete) / test.file).is_file()
    assert [j["kind"] for j in stored.analysis["jumps"]] == ["countermovement_jump"]
    assert IncomingRecording.objects.count() == 0
    (observation,) = [o for o in record_of(athlete).observations if o.label == str(test.file)]
    assert observation.heights_m[0] == pytest.approx(0.38, abs=0.08)


def test_the_page_shows_phases_trust_and_a_figure(coach, stored):
    text = coach.get(f"/recordings/{stored.pk}/").content.decode()

    for words in ("Countermovement jump", "propulsion", "by impulse", "standard error"):
        assert words in text
    assert f'data-chart="/recordings/{stored.pk}/figures/1/"' in text
    light = coach.get(f"/recordings/{stored.pk}/figures/1/").json()
    dark = coach.get(f"/recordings/{stored.pk}/figures/1/?dark=1").json()
    assert light["$schema"].startswith("https://vega.github.io/schema/vega-lite")
    assert light["config"]["background"] != dark["config"]["background"]
    assert light["datasets"] == dark["datasets"]
    assert coach.get(f"/recordings/{stored.pk}/figures/2/").status_code == 404


def test_the_file_comes_back_as_it_went_in(coach, athlete, recorded):
    file = recorded('../../etc/Päss "x".csv')
    content = file.read()
    file.seek(0)
    upload(coach, athlete, file)
    stored = StoredRecording.objects.get()

    answer = coach.get(f"/recordings/{stored.pk}/file/")

    assert b"".join(answer.streaming_content) == content
    assert answer["Content-Disposition"].startswith("attachment")
    assert "/" not in stored.name


def test_the_same_file_counts_once(coach, athlete, recorded):
    upload(coach, athlete, recorded())
    answer = upload(coach, athlete, recorded("again.csv"))

    assert len(recorded_tests(athlete)) == 1
    page = coach.get(answer.url).content.decode()
    assert "in the record already" in page


def test_a_file_without_a_rate_says_so_and_is_read_when_told(coach, athlete, recorded):
    upload(coach, athlete, recorded(rate=False))
    waiting = IncomingRecording.objects.get()
    text = coach.get(f"/athletes/{athlete.pk}/recordings/").content.decode()
    assert recorded_tests(athlete) == []
    assert "Say how to read it" in text
    assert "Readings a second" in waiting.error
    assert "--" not in waiting.error
    assert "saltus analyse" not in waiting.error

    answer = coach.post(f"/incoming/{waiting.pk}/", {"rate_hz": "1000", "unit": "N"})

    assert answer.status_code == 302
    (test,) = recorded_tests(athlete)
    assert test.rate_hz == 1000


def test_a_way_of_reading_that_fails_is_told_on_the_form(coach, athlete, recorded):
    upload(coach, athlete, recorded(rate=False))
    waiting = IncomingRecording.objects.get()

    answer = coach.post(f"/incoming/{waiting.pk}/", {"force": "nothing", "rate_hz": "1000"})

    assert answer.status_code == 422
    assert "nothing" in answer.content.decode()


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (b"\x00\x01\xff\xfe" * 2000, "rubbish.csv"),
        (b"PK\x03\x04" + b"x" * 500, "sheet.csv"),
        (b"a,b\n1,2\n", "short.csv"),
        (b"<html><script>alert(1)</script></html>", "page.c3d"),
    ],
)
def test_what_is_no_recording_never_gets_into_a_record(coach, athlete, content, name):
    answer = upload(coach, athlete, SimpleUploadedFile(name, content))

    assert answer.status_code == 302
    assert recorded_tests(athlete) == []
    text = coach.get(answer.url).content.decode()
    assert "<script>alert" not in text


def test_empty_and_too_large_files_are_refused(coach, athlete, recorded, settings):
    settings.RECORDING_LIMIT_BYTES = 1000
    answer = upload(coach, athlete, recorded(), SimpleUploadedFile("e.csv", b""))

    text = coach.get(answer.url).content.decode()
    assert "is larger than" in text
    assert IncomingRecording.objects.count() == 0


def test_one_upload_at_a_time_is_answered_in_data(coach, athlete, recorded):
    data = {"date": "2026-10-20", "files": [recorded()]}
    answer = coach.post(f"/athletes/{athlete.pk}/recordings/", data, headers={"X-Upload": "1"})

    (outcome,) = json.loads(answer.content)["files"]
    assert outcome["good"]
    assert "jumps found: 1" in outcome["sentence"]


def test_a_jump_is_dropped_with_a_reason_and_taken_back(coach, athlete, stored):
    address = f"/recordings/{stored.pk}/jumps/1/"

    coach.post(address, {"keep": "no", "why": "Touched the rail.", "seen": ""})
    (test,) = recorded_tests(athlete)
    assert [(d.jump, d.keep, d.why) for d in test.decisions] == [(1, False, "Touched the rail.")]
    assert record_of(athlete).observations[-1].label != str(test.file)
    text = coach.get(f"/recordings/{stored.pk}/").content.decode()
    assert "Dropped: Touched the rail." in text

    coach.post(address, {"undo": "1", "seen": "0 Touched the rail."})
    assert recorded_tests(athlete)[0].decisions == ()


def test_a_decision_needs_a_reason(coach, athlete, stored):
    coach.post(f"/recordings/{stored.pk}/jumps/1/", {"keep": "no", "why": "", "seen": ""})

    assert recorded_tests(athlete)[0].decisions == ()


def test_two_people_deciding_on_the_same_jump_are_told(coach, client_of, editor, athlete, stored):
    address = f"/recordings/{stored.pk}/jumps/1/"
    client_of(editor).post(address, {"keep": "no", "why": "Fell over.", "seen": ""})

    answer = coach.post(address, {"keep": "no", "why": "Touched the rail.", "seen": ""})

    assert answer.status_code == 409
    assert recorded_tests(athlete)[0].decisions[0].why == "Fell over."


def test_a_rejected_jump_cannot_be_kept(coach, athlete, stored):
    stored.analysis["jumps"][0]["trust"] = "rejected"
    stored.save()

    coach.post(f"/recordings/{stored.pk}/jumps/1/", {"keep": "yes", "why": "Mine.", "seen": ""})
    assert recorded_tests(athlete)[0].decisions == ()


def test_a_recording_is_read_in_another_way(coach, athlete, stored):
    coach.post(f"/recordings/{stored.pk}/jumps/1/", {"keep": "no", "why": "Rail.", "seen": ""})
    answer = coach.post(f"/recordings/{stored.pk}/read/", {"jump": "squat_jump", "arms": "on"})

    assert answer.status_code == 302
    (test,) = recorded_tests(athlete)
    assert (test.jump, test.arms) == ("squat_jump", True)
    assert test.decisions[0].why == "Rail."
    stored.refresh_from_db()
    assert stored.analysis["jumps"][0]["kind"] == "squat_jump"


def test_reading_that_fails_changes_nothing(coach, athlete, stored):
    answer = coach.post(f"/recordings/{stored.pk}/read/", {"force": "no such column"})

    assert answer.status_code == 422
    assert recorded_tests(athlete)[0].force is None


def test_taken_out_it_no_longer_counts_and_can_come_back(coach, owner, athlete, stored):
    from saltus.web.records import restore_revision

    number = athlete.revision + 1
    coach.post(f"/recordings/{stored.pk}/remove/")
    assert recorded_tests(athlete) == []
    assert StoredRecording.objects.count() == 0

    restore_revision(athlete, number, owner)
    athlete.refresh_from_db()
    assert record_of(athlete).observations  # the file is still there


def test_somebody_elses_weight_is_said(coach, owner, athlete, stored):
    from dataclasses import replace

    from saltus.athlete.person import BodyMass
    from saltus.web.records import change_record

    change_record(
        athlete,
        owner,
        lambda r: replace(r, person=replace(r.person, body_masses=(BodyMass(stored.date, 90.0),))),
        what="mass",
    )
    text = coach.get(f"/recordings/{stored.pk}/").content.decode()
    assert "stood on the plate" in text


def test_a_folder_is_matched_by_name_and_saved_after_a_look(
    coach, day, athlete, second, recorded, tests_on
):
    address = f"/test-days/{day.pk}/recordings/"
    data = {"date": "2026-10-20", "files": [recorded("ilves_ada_cmj.csv")]}
    coach.post(address, data)
    coach.post(address, {**data, "files": [recorded("jump7.csv")], "path": "Moen/jump7.csv"})
    coach.post(address, {**data, "files": [recorded("mystery.csv")]})
    assert tests_on(athlete) == []

    page = coach.get(address)
    rows = {row["incoming"].name: row["incoming"] for row in page.context["readable"]}
    assert rows["ilves_ada_cmj.csv"].athlete == athlete
    assert rows["jump7.csv"].athlete == second
    assert rows["mystery.csv"].athlete is None
    chosen = {f"athlete-{i.pk}": str(i.athlete_id or "") for i in rows.values()}
    coach.post(f"{address}save/", chosen)

    assert len(tests_on(athlete)) == 1
    assert len(tests_on(second)) == 1
    assert tests_on(athlete)[0].note == "Autumn tests"
    assert [i.name for i in IncomingRecording.objects.all()] == ["mystery.csv"]


def test_a_file_that_is_there_already_is_named_once(coach, day, athlete, recorded):
    address = f"/test-days/{day.pk}/recordings/"
    for _ in range(2):
        coach.post(
            address, {"date": "2026-10-20", "files": [recorded("ilves_ada_cmj.csv")]}, follow=True
        )
        [incoming] = IncomingRecording.objects.all()
        saved = coach.post(
            f"{address}save/", {f"athlete-{incoming.pk}": str(athlete.pk)}, follow=True
        )
    said = [str(each) for each in saved.context["messages"]]
    assert said == ["ilves_ada_cmj.csv is in the record already."]


def test_a_load_in_the_name_is_shown_before_it_is_saved_and_what_the_form_says_goes_first(
    coach, day, athlete, recorded, tests_on
):
    address = f"/test-days/{day.pk}/recordings/"
    data = {"date": "2026-10-20", "files": [recorded("ilves_ada_sj_20kg.csv")]}
    coach.post(address, data)
    [incoming] = IncomingRecording.objects.all()
    assert incoming.options["load_kg"] == 20.0
    assert "with 20 kg" in coach.get(address).content.decode()
    incoming.delete()

    coach.post(address, {**data, "files": [recorded("ilves_ada_sj_20kg.csv")], "load": "30"})
    [incoming] = IncomingRecording.objects.all()
    assert incoming.options["load_kg"] == 30.0


def test_a_file_cannot_be_given_to_somebody_elses_athlete(coach, day, outsider, recorded, athlete):
    from saltus.web.models import Squad
    from saltus.web.records import add_athlete

    foreign = add_athlete(Squad.objects.get(owner=outsider), athlete.text, outsider)
    address = f"/test-days/{day.pk}/recordings/"
    coach.post(address, {"date": "2026-10-20", "files": [recorded("x.csv")]})
    incoming = IncomingRecording.objects.get()

    coach.post(f"{address}save/", {f"athlete-{incoming.pk}": str(foreign.pk)})

    assert recorded_tests(foreign) == []
    assert IncomingRecording.objects.count() == 1


def test_a_waiting_file_is_thrown_away(coach, day, recorded, settings):
    coach.post(f"/test-days/{day.pk}/recordings/", {"date": "2026-10-20", "files": [recorded()]})
    incoming = IncomingRecording.objects.get()
    folder = settings.MEDIA_ROOT.with_name("incoming")
    assert list(folder.iterdir())

    coach.post(f"/incoming/{incoming.pk}/discard/")

    assert IncomingRecording.objects.count() == 0
    assert not list(folder.iterdir())


def test_commands_become_words_of_the_form():
    said = in_page_words(
        "a.csv: there is no time column and no sampling rate; give it with --rate, for example: "
        "saltus analyse a.csv --rate 1000"
    )
    assert said == (
        "a.csv: there is no time column and no sampling rate; give it with “Readings a second”."
    )


def test_waiting_files_go_with_their_test_day(coach, day, recorded, settings):
    coach.post(f"/test-days/{day.pk}/recordings/", {"date": "2026-10-20", "files": [recorded()]})
    folder = settings.MEDIA_ROOT.with_name("incoming")
    assert list(folder.iterdir())

    coach.post(f"/test-days/{day.pk}/delete/")

    assert not list(folder.iterdir())


def test_a_recording_that_came_without_figures_is_looked_at_again(coach, stored):
    for path in (folder_of(stored.athlete) / "recordings").glob("*.json"):
        path.unlink()
    assert coach.get(f"/recordings/{stored.pk}/figures/1/").status_code == 200

    stored.analysis = {}
    stored.save()
    assert "Countermovement jump" in coach.get(f"/recordings/{stored.pk}/").content.decode()


def test_a_sentence_calls_it_as_the_coach_does(coach, athlete, recorded):
    upload(coach, athlete, recorded("My jump.csv"))
    kept_as = StoredRecording.objects.get().sha256
    said = f"The countermovement jump (recordings/{kept_as}.csv) fits nothing else."
    other = f"Of nobody: recordings/{64 * 'a'}.csv."

    assert with_names([said, "Rest.", other], athlete) == [
        "The countermovement jump (My jump.csv) fits nothing else.",
        "Rest.",
        other,
    ]


def test_its_results_stay_on_the_pages_when_the_record_changes(coach, owner, athlete, stored):
    athlete.refresh_from_db()
    kept = assess_now(athlete)
    change_record(
        athlete, owner, lambda record: replace(record, remark="Sleeps well."), what="a remark"
    )
    athlete.refresh_from_db()
    assert kept.document["revision"] != athlete.revision

    told = about_now(athlete, kept)["tests"]

    (jump,) = [test for test in told if test["file"]]
    assert jump["values"][0] == pytest.approx(0.38, abs=0.08)
    assert len(told) == len(about_now(athlete, None)["tests"])
    assert [t["values"] for t in about_now(athlete, None)["tests"] if t["file"]] == [[]]
