"""One test of any kind is added in a form, and what was not expected is asked about first."""

import re

import pytest

from saltus.athlete.observations import DropJump, Jump, JumpMethod, Maximum
from saltus.record import schema
from saltus.web.records import change_text, record_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def add(coach, athlete):
    def added(kind, **data):
        athlete.refresh_from_db()
        return coach.post(
            f"/athletes/{athlete.pk}/record/test/add/{kind}/",
            {"revision": athlete.revision, **data},
        )

    return added


def results_of(athlete):
    athlete.refresh_from_db()
    return record_of(athlete, recordings=False).tests


def test_every_kind_that_can_be_written_down_has_a_form(coach, athlete):
    page = coach.get(f"/athletes/{athlete.pk}/record/test/add/").content.decode()
    for kind in set(schema.TESTS) - {"recording"}:
        assert f"/record/test/add/{kind}/" in page
        form = coach.get(f"/athletes/{athlete.pk}/record/test/add/{kind}/")
        assert form.status_code == 200
    assert coach.get(f"/athletes/{athlete.pk}/record/test/add/recording/").status_code == 404
    assert (
        f"/athletes/{athlete.pk}/record/test/add/"
        in coach.get(f"/athletes/{athlete.pk}/").content.decode()
    )


def test_a_jump_is_added_with_its_history(add, athlete):
    before = results_of(athlete)

    answer = add("countermovement_jump", date="2026-11-10", method="mat", heights="34, 34 1/2")

    assert answer.status_code == 302
    (new,) = [test for test in results_of(athlete) if test not in before]
    assert isinstance(new, Jump)
    assert new.method is JumpMethod.MAT
    assert new.heights_m == (0.34, 0.345)
    assert athlete.revisions.first().what == "test added: Countermovement jump"
    assert "# invented" in athlete.text


def test_inches_and_pounds_are_taken(add, owner, athlete):
    owner.length_unit, owner.mass_unit = "in", "lb"
    owner.save()

    assert (
        add("drop_jump", date="2026-11-10", box="12", heights="11", contacts="240").status_code
        == 302
    )
    assert add("maximum", date="2026-11-11", lift="back_squat", load="220").status_code == 302

    drop, squat = results_of(athlete)[-2:]
    assert isinstance(drop, DropJump)
    assert drop.drop_m == pytest.approx(12 * 0.0254)
    assert isinstance(squat, Maximum)
    assert squat.load_kg == pytest.approx(99.79, abs=0.01)


def test_an_implausible_height_is_asked_about_and_can_be_kept(add, athlete):
    before = results_of(athlete)
    data = {"date": "2026-11-10", "method": "mat", "heights": "95"}

    asked = add("countermovement_jump", **data)

    page = asked.content.decode()
    assert asked.status_code == 422
    assert "keep it?" in page
    assert results_of(athlete) == before
    token = re.search(r'name="keep" value="(\w+)"', page)[1]
    other = add("countermovement_jump", **data | {"heights": "96"}, keep=token)
    assert other.status_code == 422  # another figure was not asked about yet
    assert add("countermovement_jump", **data, keep=token).status_code == 302
    assert results_of(athlete)[-1].heights_m == (0.95,)


def test_a_fault_stands_at_its_field(add, athlete):
    before = results_of(athlete)

    answer = add("countermovement_jump", date="2026-11-10", method="mat", heights="340")

    assert answer.status_code == 422
    assert answer.context["form"].errors["heights"]
    assert results_of(athlete) == before


@pytest.mark.parametrize(
    ("kind", "typed", "field", "said"),
    [
        ("countermovement_jump", {"heights": "34"}, "method", "Choose how it was measured."),
        (
            "countermovement_jump",
            {"flight": "512", "method": "reach"},
            "method",
            "force plate, flight time",
        ),
        ("squat_jump", {"frames": "120", "method": "film"}, "frames", "“Frame rate”"),
    ],
)
def test_a_fault_speaks_of_the_labels_of_the_form(add, kind, typed, field, said):
    answer = add(kind, date="2026-11-10", **typed)
    assert answer.status_code == 422
    told = " ".join(answer.context["form"].errors[field])
    assert said in told
    assert "_" not in told


def test_somebody_else_s_change_is_not_overwritten(add, coach, editor, athlete):
    seen = athlete.revision
    change_text(athlete, editor, athlete.text + "\n# later\n", what="text", revision=seen)

    answer = coach.post(
        f"/athletes/{athlete.pk}/record/test/add/maximum/",
        {"revision": seen, "date": "2026-11-10", "lift": "back_squat", "load": "90"},
    )

    assert answer.status_code == 409


@pytest.mark.parametrize("kind", sorted(set(schema.TESTS) - {"recording"}))
def test_no_form_speaks_of_the_keys_of_the_file(coach, athlete, kind):
    page = coach.get(f"/athletes/{athlete.pk}/record/test/add/{kind}/").content.decode()
    shown = re.sub(r"<[^>]*>", " ", page)
    assert re.findall(r"\b[a-z]+(?:_[a-z]+)+\b|\btrue for\b|otherwise required", shown) == []
