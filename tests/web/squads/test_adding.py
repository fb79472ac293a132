import pytest

from saltus.web.models import Athlete
from saltus.web.records import record_of

pytestmark = pytest.mark.django_db


def filled(squad, **fields):
    return {
        "squad": squad.pk,
        "name": "Bo Hansen",
        "sex": "male",
        "stature": "185",
        "mass": "82,5",
        "testing_tools": ["tape"],
        **fields,
    }


def test_a_short_form_adds_an_athlete(coach, squad):
    answer = coach.post("/squad/add/", filled(squad, born="2004-02-29", group="seniors"))

    athlete = Athlete.objects.get()
    assert answer.url == f"/athletes/{athlete.pk}/record/"
    record = record_of(athlete)
    assert athlete.group == "seniors"
    assert record.person.stature_m == pytest.approx(1.85)
    assert record.person.body_masses[0].mass_kg == pytest.approx(82.5)
    assert record.person.testing_tools == {"tape"}


def test_units_are_those_of_the_coach(coach, squad, owner):
    owner.length_unit, owner.mass_unit = "in", "lb"
    owner.save()
    page = coach.get("/squad/add/").content.decode()
    assert "Stature (in)" in page
    assert "Body mass (lb)" in page

    coach.post("/squad/add/", filled(squad, stature="70 1/2", mass="180"))

    person = record_of(Athlete.objects.get()).person
    assert person.stature_m == pytest.approx(70.5 * 0.0254)
    assert person.body_masses[0].mass_kg == pytest.approx(180 * 0.45359237)
    assert "stature_in = 70.5" in Athlete.objects.get().text


@pytest.mark.parametrize(
    ("fields", "at", "said"),
    [
        ({"stature": "18"}, "id_stature_error", "cannot be right"),
        ({"stature": "tall"}, "id_stature_error", "is no number"),
        ({"mass": ""}, "id_mass_error", "required"),
        ({"mass": "8"}, "id_mass_error", "cannot be right"),
        ({"name": ""}, "id_name_error", "required"),
        ({"standing_reach": "300"}, "id_standing_reach_error", "does not go with a stature"),
        ({"testing_tools": []}, "id_testing_tools_error", "required"),
        ({"born": "2004-13-01"}, "id_born_error", "valid date"),
    ],
)
def test_faults_stand_at_their_field(coach, squad, fields, at, said):
    answer = coach.post("/squad/add/", filled(squad, **fields))

    assert answer.status_code == 422
    page = answer.content.decode()
    assert said in page.split(f'id="{at}"')[1][:300]
    assert not Athlete.objects.exists()


def test_only_those_who_may_edit_add(client_of, reader, editor, outsider, squad):
    assert client_of(reader).get("/squad/add/").status_code == 404
    client_of(outsider).post("/squad/add/", filled(squad))
    assert not Athlete.objects.exists()
    client_of(editor).post("/squad/add/", filled(squad))
    assert Athlete.objects.get().squad == squad
