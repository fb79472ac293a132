import datetime as dt

import pytest

from saltus.web.models import Athlete
from saltus.web.records import change_text, record_of

pytestmark = pytest.mark.django_db


def html(answer):
    return " ".join(answer.content.decode().split())


def at(athlete, rest=""):
    return f"/athletes/{athlete.pk}/record/{rest}"


@pytest.fixture
def save(coach, athlete):
    """Posts a form of the record, as the page would send it."""

    def post(rest, revision=None, **fields):
        present = Athlete.objects.get(pk=athlete.pk).revision
        return coach.post(at(athlete, rest), {"revision": revision or present, **fields})

    return post


def present(athlete):
    return record_of(Athlete.objects.get(pk=athlete.pk))


def test_the_record_is_shown_in_words(coach, athlete):
    page = html(coach.get(at(athlete)))

    for words in ("Standing reach", "232 cm", "one-repetition maximum", "Free time", "300 cm"):
        assert words in page


def test_a_restriction_is_chosen_in_words_and_kept_as_plans_read_it(coach, athlete, save):
    page = html(coach.get(at(athlete, "restriction/add/")))
    assert "depth_jump" not in page
    assert '<option value="depth jumps">' in page

    save("restriction/add/", what="Depth jumps", start="2026-11-20")
    assert present(athlete).restrictions[0].what == "depth_jump"
    assert "depth jumps" in html(coach.get(at(athlete)))
    assert 'value="depth jumps"' in html(coach.get(at(athlete, "restriction/0/")))
    save("restriction/0/", what="depth jumps", start="2026-11-21")
    assert present(athlete).restrictions[0].what == "depth_jump"

    assert "is no exercise" not in html(coach.get(at(athlete)))
    save("restriction/0/", what="hopping about", start="2026-11-21")
    assert "“hopping about” is no exercise" in html(coach.get("/"))


def test_german_forms_and_pages_speak_german(coach, athlete, save):
    save("pain/add/", place="left knee", level="1", date="2026-11-20")
    save("restriction/add/", what="depth_jump", start="2026-11-20")
    coach.post(
        "/settings/", {"name": "M", "length_unit": "cm", "mass_unit": "kg", "language": "de"}
    )
    page = html(coach.get(at(athlete)))
    assert "linkes Knie" in page
    assert "Tiefsprünge" in page
    save("pain/0/", place="Rechtes Knie", level="1", date="2026-11-20")
    assert present(athlete).pains[0].place == "right knee"


def test_lists_are_told_with_semicolons(coach, athlete, save):
    save("gym/", equipment=["dumbbells"], unit="kg", bar="20", dumbbells="10; 12,5; 15")
    assert "10; 12.5; 15 kg" in html(coach.get(at(athlete)))


def test_every_part_opens_as_a_form(coach, athlete):
    for table in ("athlete", "goal", "week", "gym", "plan"):
        assert coach.get(at(athlete, f"{table}/")).status_code == 200
    for table in ("body_mass", "target", "practice", "match", "blocked", "pain", "restriction"):
        assert coach.get(at(athlete, f"{table}/add/")).status_code == 200
    for place in ("block/add/", "agreed/add/", "test/0/", "test/1/", "body_mass/0/"):
        assert coach.get(at(athlete, place)).status_code == 200
    assert coach.get(at(athlete, "body_mass/")).status_code == 302


def test_a_form_sent_as_it_came_changes_nothing(coach, athlete):
    """Whatever a form shows must read back to the same record."""
    for rest in ("athlete/", "goal/", "gym/", "week/", "test/0/", "test/1/", "body_mass/0/"):
        form = coach.get(at(athlete, rest)).context["form"]
        sent = {"revision": athlete.revision}
        for field in form:
            value = field.value()
            if value is True:
                sent[field.name] = "on"
            elif value not in (None, False):
                sent[field.name] = value
        answer = coach.post(at(athlete, rest), sent)
        assert answer.status_code == 302, (rest, html(answer))
        assert Athlete.objects.get().text == athlete.text, rest


def test_a_change_keeps_comments_and_what_is_not_asked(save, athlete):
    save(
        "athlete/",
        name="Ada Holm",
        sex="female",
        born="2003-05-17",
        stature="179",
        standing_reach="232",
        training_age_years="5",
        sport="volleyball",
        testing_tools=["tape"],
        landing_practice_weeks="0",
    )

    changed = Athlete.objects.get()
    assert changed.name == "Ada Holm"
    assert "# invented" in changed.text
    assert present(athlete).person.stature_m == pytest.approx(1.79)
    assert changed.revisions.first().what == "Who they are changed"


def test_free_time_gym_and_days(save, athlete):
    save("week/", mon="60", wed="60", fri="")
    save(
        "gym/",
        equipment=["barbell", "boxes"],
        unit="kg",
        bar="20",
        plates="20 x 4\n2,5 x 2",
        boxes="30, 45; 60",
        dumbbells="10 12.5",
        soft_surface="on",
    )
    save("target/add/", date="2027-04-17", priority="main", what="the final")
    save("practice/add/", weekdays=["tue", "thu"], landings="40")
    save("match/add/", date="2026-12-05", landings="60")
    save("blocked/add/", start="2026-12-24", end="2026-12-26", why="feast")
    save("pain/add/", date="2026-11-20", place="left knee", level="3", settled_next_morning="no")
    save("restriction/add/", what="depth_jump", start="2026-11-20", why="physiotherapist")
    save("block/add/", start="2026-09-01", end="2026-10-01", max_strength="1")
    save("agreed/add/", caution="landings", date="2026-10-01", by="Ada")

    record = present(athlete)
    assert record.minutes == {"mon": 60, "wed": 60}
    assert record.gym.plates_kg == {20.0: 4, 2.5: 2}
    assert record.gym.boxes_m == pytest.approx((0.30, 0.45, 0.60))
    assert record.gym.dumbbells_kg == (10.0, 12.5)
    assert record.soft_surface
    assert record.targets[0].what == "the final"
    assert [s.kind for s in record.sport] == ["practice", "match"]
    assert record.blocked[0].end == dt.date(2026, 12, 26)
    assert record.pains[0].settled_next_morning is False
    assert record.restrictions[0].what == "depth_jump"
    assert record.blocks[0].emphasis == {"max_strength": 1.0}
    assert record.agreed[0].by == "Ada"


def test_a_row_in_the_middle_is_changed_and_removed(save, athlete):
    save("body_mass/add/", date="2026-09-01", mass="69")
    save("body_mass/add/", date="2026-11-01", mass="71")
    text = Athlete.objects.get().text
    index = [line for line in text.splitlines() if line.startswith("mass_kg")].index("mass_kg = 69")

    save(f"body_mass/{index}/", date="2026-09-01", mass="69.5")
    assert [m.mass_kg for m in present(athlete).person.body_masses] == [69.5, 70, 71]

    save(f"body_mass/{index}/remove/")
    assert [m.mass_kg for m in present(athlete).person.body_masses] == [70, 71]


@pytest.mark.parametrize(
    ("rest", "fields", "error_id", "said"),
    [
        ("body_mass/add/", {"date": "2026-10-01", "mass": "71"}, "id_date_error", "two weighings"),
        ("body_mass/0/", {"date": "2026-10-01", "mass": "7"}, "id_mass_error", "cannot be right"),
        ("goal/", {"touch": "200"}, "id_touch_error", "within the standing reach"),
        ("blocked/add/", {"start": "2026-12-24", "end": "2026-12-01"}, "id_end_error", "before"),
        ("pain/add/", {"date": "2026-12-24", "place": "x", "level": "11"}, "id_level_error", "10"),
        ("week/", {"mon": "60.5"}, "id_mon_error", "whole number"),
        ("gym/", {"unit": "kg", "plates": "20"}, "id_plates_error", "20 x 4"),
        ("gym/", {"unit": "kg", "plates": "20 x some"}, "id_plates_error", "pairs"),
    ],
)
def test_faults_stand_at_their_field(save, athlete, rest, fields, error_id, said):
    answer = save(rest, **fields)

    assert answer.status_code == 422
    assert said.casefold() in html(answer).split(f'id="{error_id}"')[1][:400].casefold()
    assert Athlete.objects.get().revision == 1


def test_a_fault_of_the_whole_row_or_of_elsewhere_stands_above(save, athlete):
    assert "Give one of" in html(save("goal/", jump="50", touch="300"))
    assert "Give one of weekdays" in html(save("practice/add/", landings="4"))
    answer = save("athlete/", name="Ada", sex="female", testing_tools=["tape"])
    assert "goal.touch_cm" in html(answer)


def test_the_last_weighing_cannot_go(save, athlete):
    assert save("body_mass/0/remove/").status_code == 422


def test_inches_and_pounds(save, coach, owner, athlete):
    owner.length_unit, owner.mass_unit = "in", "lb"
    owner.save()
    page = html(coach.get(at(athlete, "athlete/")))
    assert "Stature (in)" in page
    assert 'value="70.1"' in page

    save(
        "athlete/",
        name="Ada",
        sex="female",
        stature="70.1",
        standing_reach="92 1/2",
        testing_tools=["tape"],
    )
    person = present(athlete).person
    assert person.stature_m == 1.78  # untouched, so not rounded through inches
    assert person.standing_reach_m == pytest.approx(92.5 * 0.0254)


def test_two_people_at_once(save, athlete, owner):
    change_text(athlete, owner, athlete.text + "\n# mine\n", what="mine", revision=1)

    answer = save("week/", revision=1, mon="60")

    assert answer.status_code == 409
    assert "Nothing was overwritten" in html(answer)
    assert f'href="{at(athlete)}"' in html(answer)
    assert save("week/", revision="no number", mon="60").status_code == 400


def test_what_is_not_there_is_told_on_a_page_with_a_way_back(coach, athlete):
    answer = coach.get(at(athlete, "nonsense/"))
    assert answer.status_code == 404
    assert "There is no such page" in html(answer)
    assert 'href="/"' in html(answer)


def test_who_may_do_what(client_of, reader, editor, outsider, athlete):
    paths = ["", "athlete/", "body_mass/add/", "body_mass/0/", "text/", "history/", "history/1/"]
    for path in paths:
        assert client_of(outsider).get(at(athlete, path)).status_code == 404
    assert [client_of(reader).get(at(athlete, p)).status_code for p in paths] == [200, *[404] * 6]
    assert [client_of(editor).get(at(athlete, p)).status_code for p in paths] == [
        *[200] * 4,
        *[404] * 3,
    ]
    for path in ("body_mass/0/remove/", "week/", "text/", "history/1/"):
        for person in (reader, outsider):
            answer = client_of(person).post(at(athlete, path), {"revision": 1, "mon": 60})
            assert answer.status_code == 404
    assert Athlete.objects.get().revision == 1


def test_health_is_hidden_from_whom_it_is_not_shared_with(client_of, editor, owner, athlete):
    text = athlete.text.replace("sport =", 'remark = "a secret"\nsport =')
    change_text(athlete, owner, text, what="remark", revision=1)

    page = html(client_of(editor).get(at(athlete)))
    assert "a secret" not in page
    assert "Pains" not in page
    assert "a secret" not in html(client_of(editor).get(at(athlete, "athlete/")))
    assert client_of(editor).get(at(athlete, "pain/add/")).status_code == 404

    client_of(editor).post(
        at(athlete, "athlete/"),
        {
            "revision": 2,
            "name": "Ada",
            "sex": "female",
            "standing_reach": "232",
            "testing_tools": "tape",
        },
    )
    assert present(athlete).remark == "a secret"
    assert present(athlete).person.name == "Ada"


def test_no_such_part_or_row(coach, athlete):
    for path in ("nonsense/", "body_mass/7/", "session/add/", "athlete/add/"):
        assert coach.get(at(athlete, path)).status_code == 404


def test_a_record_at_fault_still_opens(coach, athlete):
    Athlete.objects.update(text="saltus_record = 1\n[athlete\n")

    assert "The record is at fault" in html(coach.get(at(athlete)))
    assert "line 2" in html(coach.get(at(athlete, "text/")))
