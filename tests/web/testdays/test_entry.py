"""Results are saved as they are entered, asked about, and never lost or overwritten."""

import pytest

from saltus.athlete.observations import DropJump, Jump, JumpMethod, RepSet
from saltus.web.models import UnfinishedResult
from saltus.web.records import change_record, record_of

pytestmark = pytest.mark.django_db


def address(day, athlete, key):
    return f"/test-days/{day.pk}/athletes/{athlete.pk}/{key}/save/"


def seen_in(client, day, athlete, key):
    page = client.get(f"/test-days/{day.pk}/athletes/{athlete.pk}/{key}/")
    return page.context["cell"].seen


def enter(client, day, athlete, key, *, htmx=True, seen=None, **figures):
    data = {name.replace("_", "."): text for name, text in figures.items() if name != "keep"}
    if "keep" in figures:
        data["keep"] = figures["keep"]
    data["seen"] = seen if seen is not None else seen_in(client, day, athlete, key)
    headers = {"HX-Request": "true"} if htmx else {}
    return client.post(address(day, athlete, key), data, headers=headers)


def test_a_figure_is_in_the_record_at_once(coach, day, athlete, tests_on):
    answer = enter(coach, day, athlete, "cmj", heights_1="34", heights_2="35,5")

    assert "Saved" in answer.content.decode()
    (test,) = tests_on(athlete)
    assert isinstance(test, Jump)
    assert test.method is JumpMethod.MAT
    assert test.heights_m == (0.34, 0.355)
    assert test.note == "Autumn tests"
    assert "# invented" in athlete.text
    assert athlete.revisions.first().what == "test day: Countermovement jump"


def test_further_attempts_join_the_same_test(coach, day, athlete, tests_on):
    enter(coach, day, athlete, "cmj", heights_1="34")
    enter(coach, day, athlete, "cmj", heights_1="34", heights_2="35")

    (test,) = tests_on(athlete)
    assert test.heights_m == (0.34, 0.35)


def test_inches_are_typed_as_a_coach_writes_them(coach, owner, day, athlete, tests_on):
    owner.length_unit = "in"
    owner.save()

    enter(coach, day, athlete, "cmj", heights_1="13 1/2")

    (test,) = tests_on(athlete)
    assert test.heights_m == (pytest.approx(13.5 * 0.0254),)
    page = coach.get(f"/test-days/{day.pk}/")
    assert 'value="13.5"' in page.content.decode()


def test_an_implausible_height_is_asked_about_and_can_be_kept(coach, day, athlete, tests_on):
    answer = enter(coach, day, athlete, "cmj", heights_1="34", heights_2="95")

    text = answer.content.decode()
    assert "Attempt 2: 95.0 cm is" in text
    assert "cm above what was expected" in text
    assert "keep it?" in text
    assert tests_on(athlete) == []

    answer = enter(coach, day, athlete, "cmj", heights_1="34", heights_2="95", keep="1")

    (test,) = tests_on(athlete)
    assert test.heights_m == (0.34, 0.95)
    assert UnfinishedResult.objects.count() == 0


def test_what_was_kept_is_not_asked_about_again(coach, day, athlete, tests_on):
    enter(coach, day, athlete, "cmj", heights_1="95")
    enter(coach, day, athlete, "cmj", heights_1="95", keep="1")

    answer = enter(coach, day, athlete, "cmj", heights_1="95", heights_2="34")

    assert "Saved" in answer.content.decode()
    assert tests_on(athlete)[0].heights_m == (0.95, 0.34)


def test_only_what_was_asked_about_is_kept(coach, day, athlete, tests_on):
    enter(coach, day, athlete, "cmj", heights_1="95")

    answer = enter(coach, day, athlete, "cmj", heights_1="95", heights_2="99", keep="1")

    assert "Attempt 2: 99.0 cm" in answer.content.decode()
    assert tests_on(athlete) == []


def test_a_question_outlives_a_closed_page(coach, day, athlete):
    enter(coach, day, athlete, "cmj", heights_1="95")

    page = coach.get(f"/test-days/{day.pk}/").content.decode()

    assert 'value="95"' in page
    assert "above what was expected" in page


def test_half_a_test_waits_and_is_told(coach, day, athlete, tests_on):
    answer = enter(coach, day, athlete, "squat", load_0="80")

    assert "Still to come: reps" in answer.content.decode()
    assert tests_on(athlete) == []
    enter(coach, day, athlete, "squat", load_0="80", reps_0="5")
    (test,) = tests_on(athlete)
    assert isinstance(test, RepSet)
    assert (test.load_kg, test.reps) == (80, 5)


def test_a_drop_jump_keeps_its_contact_times(coach, day, athlete, tests_on):
    figures = {"heights_1": "20", "contacts_1": "210", "heights_2": "21", "contacts_2": "205"}

    enter(coach, day, athlete, "drop", **figures)

    (test,) = tests_on(athlete)
    assert isinstance(test, DropJump)
    assert test.drop_m == 0.3
    assert test.contacts_s == (0.21, 0.205)


def test_beyond_the_limits_it_is_told_and_kept_out(coach, day, athlete, tests_on):
    answer = enter(coach, day, athlete, "cmj", heights_1="450", keep="1")

    assert "450 cm cannot be right: it lies between 2 and 150" in answer.content.decode()
    assert tests_on(athlete) == []
    assert UnfinishedResult.objects.get().typed == {"heights.1": "450"}


def test_a_word_is_no_number(coach, day, athlete):
    answer = enter(coach, day, athlete, "cmj", heights_1="high")

    assert "is no number" in answer.content.decode()


def test_emptied_figures_take_the_test_out(coach, day, athlete, tests_on):
    enter(coach, day, athlete, "cmj", heights_1="34")
    enter(coach, day, athlete, "cmj", heights_1="", heights_2="")

    assert tests_on(athlete) == []


def test_a_new_standing_reach_and_a_touch(coach, day, athlete, tests_on):
    enter(coach, day, athlete, "reach", standing__reach="")
    data = {"standing_reach.0": "233", "seen": seen_in(coach, day, athlete, "reach")}
    coach.post(address(day, athlete, "reach"), data, headers={"HX-Request": "true"})
    enter(coach, day, athlete, "touch", touched_1="275")

    (test,) = tests_on(athlete)
    assert test.heights_m == (pytest.approx(0.42),)
    assert record_of(athlete, recordings=False).person.standing_reach_m == 2.33


def test_a_strange_body_mass_is_asked_about(coach, day, athlete):
    answer = enter(coach, day, athlete, "mass", mass_0="154")

    assert "154 kg, and 70 kg before: keep it?" in answer.content.decode()
    enter(coach, day, athlete, "mass", mass_0="71.5")
    athlete.refresh_from_db()
    assert record_of(athlete).person.mass_kg(day.date) == 71.5
    assert UnfinishedResult.objects.count() == 0


def test_two_people_on_different_tests_do_not_collide(
    coach, client_of, editor, day, athlete, tests_on
):
    other = client_of(editor)
    mine, theirs = (
        seen_in(coach, day, athlete, "cmj"),
        seen_in(other, day, athlete, "squat"),
    )

    enter(other, day, athlete, "squat", seen=theirs, load_0="80", reps_0="5")
    answer = enter(coach, day, athlete, "cmj", seen=mine, heights_1="34")

    assert "Saved" in answer.content.decode()
    assert len(tests_on(athlete)) == 2


def test_the_same_cell_edited_by_two_is_told(coach, client_of, editor, day, athlete, tests_on):
    other = client_of(editor)
    seen = seen_in(coach, day, athlete, "cmj")
    enter(other, day, athlete, "cmj", heights_1="34", heights_2="35")

    answer = enter(coach, day, athlete, "cmj", seen=seen, heights_1="31")

    text = answer.content.decode()
    assert "Somebody else wrote here" in text
    assert "It says now: 34, 35" in text
    assert tests_on(athlete)[0].heights_m == (0.34, 0.35)

    again = enter(coach, day, athlete, "cmj", seen=seen, heights_1="31", heights_2="32")
    assert "Somebody else wrote here" in again.content.decode()  # told, not overwritten

    mine = {"heights.1": "31", "seen": seen, "mine": answer.context["cell"].now}
    again = coach.post(address(day, athlete, "cmj"), mine, headers={"HX-Request": "true"})
    assert "Saved" in again.content.decode()
    assert tests_on(athlete)[0].heights_m == (0.31,)


def test_theirs_can_be_left_as_it_is(coach, client_of, editor, day, athlete, tests_on):
    seen = seen_in(coach, day, athlete, "cmj")
    enter(client_of(editor), day, athlete, "cmj", heights_1="34")
    data = {"heights.1": "31", "seen": seen, "theirs": "1"}

    answer = coach.post(address(day, athlete, "cmj"), data, headers={"HX-Request": "true"})
    assert answer["HX-Refresh"] == "true"
    answer = coach.post(address(day, athlete, "cmj"), data)
    assert answer.status_code == 302
    assert tests_on(athlete)[0].heights_m == (0.34,)


def test_the_same_cell_with_the_same_figures_is_no_collision(
    coach, client_of, editor, day, athlete
):
    seen = seen_in(coach, day, athlete, "cmj")
    enter(client_of(editor), day, athlete, "cmj", heights_1="34.50")

    answer = enter(coach, day, athlete, "cmj", seen=seen, heights_1="34 1/2")

    assert "Saved" in answer.content.decode()
    assert athlete.revisions.count() == 2


def test_what_the_same_page_sent_before_is_nobody_else_s(
    coach, client_of, editor, day, athlete, tests_on
):
    """The page was closed before it heard that its first figure was saved."""
    seen = seen_in(coach, day, athlete, "cmj")
    enter(coach, day, athlete, "cmj", seen=seen, heights_1="34,0")
    data = {"heights.1": "34,0", "heights.2": "35", "seen": seen}

    alone = coach.post(address(day, athlete, "cmj"), data)
    assert "Somebody else wrote here" in alone.content.decode()
    own = coach.post(address(day, athlete, "cmj"), data | {"sent": "heights.1=34%2C0&heights.2="})
    assert own.status_code == 302
    assert tests_on(athlete)[0].heights_m == (0.34, 0.35)

    enter(client_of(editor), day, athlete, "cmj", heights_1="31")
    data = data | {"heights.3": "36", "sent": "heights.1=34%2C0&heights.2=35"}
    theirs = coach.post(address(day, athlete, "cmj"), data)
    assert theirs.status_code == 409
    assert tests_on(athlete)[0].heights_m == (0.31,)


def test_a_change_elsewhere_in_the_record_is_kept(coach, owner, day, athlete):
    seen = seen_in(coach, day, athlete, "cmj")
    from dataclasses import replace

    change_record(athlete, owner, lambda r: replace(r, remark="Left-handed."), what="remark")

    enter(coach, day, athlete, "cmj", seen=seen, heights_1="34")

    athlete.refresh_from_db()
    assert "Left-handed." in athlete.text
    assert "heights_cm = [34]" in athlete.text


def test_without_javascript_a_saved_figure_leads_to_the_next_athlete(coach, day, athlete, second):
    data = {
        "heights.1": "34",
        "then": "next",
        "seen": seen_in(coach, day, athlete, "cmj"),
    }
    answer = coach.post(address(day, athlete, "cmj"), data)

    assert answer.status_code == 302
    assert answer.url == f"/test-days/{day.pk}/athletes/{second.pk}/cmj/"


def test_without_javascript_a_question_is_a_page(coach, day, athlete):
    answer = enter(coach, day, athlete, "cmj", htmx=False, heights_1="95")

    assert answer.status_code == 422
    assert 'name="keep"' in answer.content.decode()
    assert 'value="95"' in answer.content.decode()


def test_without_javascript_a_collision_is_a_409(coach, client_of, editor, day, athlete):
    seen = seen_in(coach, day, athlete, "cmj")
    enter(client_of(editor), day, athlete, "cmj", heights_1="34")

    answer = enter(coach, day, athlete, "cmj", htmx=False, seen=seen, heights_1="31")

    assert answer.status_code == 409
    assert 'value="31"' in answer.content.decode()


def test_the_grid_shows_everybody_and_every_test(coach, day, athlete, second):
    page = coach.get(f"/test-days/{day.pk}/")

    text = page.content.decode()
    assert "Ada Ilves, Countermovement jump, height, attempt 3, cm" in text
    assert "Bea Moen" in text
    assert text.count('inputmode="decimal"') == 2 * (1 + 1 + 3 + 3 + 4 + 3)


def test_the_grid_can_be_narrowed_to_one_test(coach, day):
    text = coach.get(f"/test-days/{day.pk}/?test=cmj").content.decode()

    assert text.count('inputmode="decimal"') == 2 * 3


def test_one_more_attempt_than_meant(coach, day, athlete, tests_on):
    page = coach.get(f"/test-days/{day.pk}/athletes/{athlete.pk}/cmj/?attempts=5")
    assert "heights.5" in page.content.decode()

    enter(coach, day, athlete, "cmj", **{f"heights_{i}": "34" for i in range(1, 6)})
    assert len(tests_on(athlete)[0].heights_m) == 5


def test_pain_stands_beside_the_jump(coach, owner, day, athlete):
    import datetime as dt
    from dataclasses import replace

    from saltus.athlete.health import Pain

    pain = Pain(day.date - dt.timedelta(days=2), "left knee", 7)
    change_record(athlete, owner, lambda r: replace(r, pains=(pain,)), what="pain")

    text = coach.get(f"/test-days/{day.pk}/").content.decode()
    assert "Pain 7/10, left knee: no jumping" in text


def test_health_is_not_told_to_whom_it_is_not_shown(client_of, owner, editor, day, athlete):
    import datetime as dt
    from dataclasses import replace

    from saltus.athlete.health import Pain

    pain = Pain(day.date - dt.timedelta(days=2), "left knee", 7)
    change_record(athlete, owner, lambda r: replace(r, pains=(pain,)), what="pain")

    text = client_of(editor).get(f"/test-days/{day.pk}/").content.decode()
    assert "left knee" not in text
    assert "Not to do this today: ask the coach in charge." in text
