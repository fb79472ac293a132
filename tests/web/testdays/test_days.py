"""Setting a test day up, and who may."""

import datetime as dt

import pytest

from saltus.record.trials import Trial
from saltus.web.models import TestDay

pytestmark = pytest.mark.django_db


def test_a_first_day_has_everybody_a_warm_up_and_tests(coach, squad, athlete):
    answer = coach.post("/test-days/new/", {"squad": squad.pk, "date": "2026-12-01", "title": ""})

    day = TestDay.objects.get()
    assert answer.url == f"/test-days/{day.pk}/set-up/"
    assert list(day.athletes.all()) == [athlete]
    assert "Any pain" in day.warm_up or "any pain" in day.warm_up
    assert [row["kind"] for row in day.tests] == [
        "body_mass",
        "standing_reach",
        "countermovement_jump",
    ]


def test_the_next_day_takes_the_tests_over(coach, squad, day):
    coach.post("/test-days/new/", {"squad": squad.pk, "date": "2026-12-01", "title": "After"})

    made = TestDay.objects.get(title="After")
    assert [row["kind"] for row in made.tests] == [row["kind"] for row in day.tests]
    assert not {row["key"] for row in made.tests} & {row["key"] for row in day.tests}


def test_set_up_changes_who_and_the_warm_up(coach, day, second):
    data = {
        "date": day.date.isoformat(),
        "title": "Late",
        "athletes": [second.pk],
        "warm_up": "Skip.",
    }
    answer = coach.post(f"/test-days/{day.pk}/set-up/", data)

    assert answer.status_code == 302
    day.refresh_from_db()
    assert (day.title, day.warm_up) == ("Late", "Skip.")
    assert list(day.athletes.all()) == [second]


def test_a_day_with_results_keeps_its_date(coach, day, athlete, second, owner):
    from saltus.record.trialresults import with_results
    from saltus.web.records import change_record

    trial = Trial.from_row(day.tests[2])
    change_record(
        athlete,
        owner,
        lambda r: with_results(r, trial, day.date, {"heights.1": 0.3}),
        what="x",
    )
    data = {"date": "2027-01-01", "title": "", "athletes": [athlete.pk], "warm_up": ""}
    answer = coach.post(f"/test-days/{day.pk}/set-up/", data)

    assert "in the records already" in answer.content.decode()
    day.refresh_from_db()
    assert day.date == dt.date(2026, 10, 20)


def test_tests_are_added_moved_and_removed(coach, day):
    add = f"/test-days/{day.pk}/tests/"
    coach.post(
        add,
        {"kind": "squat_jump", "how": "mat flight", "load": "20", "attempts": "2", "lift": ""},
    )
    day.refresh_from_db()
    trial = Trial.from_row(day.tests[-1])
    assert (trial.kind, trial.way, trial.load_kg, trial.attempts) == ("squat_jump", "flight", 20, 2)

    coach.post(f"{add}{trial.key}/move/", {"to": "up"})
    day.refresh_from_db()
    assert day.tests[-2]["key"] == trial.key

    coach.post(f"{add}{trial.key}/remove/")
    day.refresh_from_db()
    assert all(row["key"] != trial.key for row in day.tests)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"kind": "drop_jump", "how": "mat heights"}, "height of its box"),
        ({"kind": "drop_jump", "how": "mat heights", "box": "900"}, "cannot be right"),
        ({"kind": "squat_jump", "how": ""}, "how the jump is measured"),
        ({"kind": "squat_jump", "how": "film frames"}, "frame rate"),
        ({"kind": "maximum", "lift": ""}, "needs its lift"),
        ({"kind": "squat_jump", "how": "mat heights", "load": "heavy"}, "is no number"),
    ],
)
def test_a_test_that_cannot_be_is_told(coach, day, data, said):
    answer = coach.post(f"/test-days/{day.pk}/tests/", {"attempts": "3", **data})

    assert answer.status_code == 422
    assert said in answer.content.decode()


def test_pounds_and_inches_when_adding(coach, owner, day):
    owner.length_unit, owner.mass_unit = "in", "lb"
    owner.save()
    coach.post(
        f"/test-days/{day.pk}/tests/",
        {"kind": "drop_jump", "how": "mat heights", "box": "12", "attempts": "3"},
    )
    day.refresh_from_db()
    assert day.tests[-1]["box_m"] == pytest.approx(0.3048)
    assert "Drop jump from 12 in" in coach.get(f"/test-days/{day.pk}/set-up/").content.decode()


def test_deleting_a_day_leaves_the_results(coach, day, athlete, owner):
    text = athlete.text
    assert coach.get(f"/test-days/{day.pk}/delete/").status_code == 200
    coach.post(f"/test-days/{day.pk}/delete/")

    assert TestDay.objects.count() == 0
    athlete.refresh_from_db()
    assert athlete.text == text


def test_the_list_shows_only_ones_own(coach, client_of, outsider, day):
    assert "Autumn tests" in coach.get("/test-days/").content.decode()
    assert "Autumn tests" not in client_of(outsider).get("/test-days/").content.decode()


def test_a_reader_sees_results_and_no_inputs(client_of, reader, day):
    text = client_of(reader).get(f"/test-days/{day.pk}/").content.decode()

    assert "Ada Ilves" in text
    assert "<input" not in text.split('class="results"')[1]
