"""Reading methods, changing copies in forms, seeing first what that touches."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from saltus.training.exercise_file import shipped_text
from saltus.training.method_file import load_method, parse_method
from saltus.web.methods.copies import make_copy
from saltus.web.methods.using import copy_read, method_of
from saltus.web.models import AuditEntry, MethodCopy, Squad, StoredPlan

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(owner):
    return make_copy(owner, "Ours")


@pytest.fixture
def used(mine, squad):
    squad.method = mine
    squad.save()
    return mine


@pytest.fixture
def planned(athlete, owner):
    """An accepted plan with box jumps in a week of strength, ten days from now (invented)."""
    day = timezone.localdate() + timezone.timedelta(days=10)
    item = {
        "exercise": "box_jump", "sets": 3, "reps": 3, "load_kg": None, "percent_of": None,
        "percent": None, "box_cm": 60, "drop_cm": None, "rest_s": 120, "rest_between_reps_s": 0,
        "cue": "", "why": "", "rule": "box_jumps", "quality": None,
    }  # fmt: skip
    plan = {
        "athlete": athlete.name,
        "start": day.isoformat(),
        "goal_date": (day + timezone.timedelta(days=60)).isoformat(),
        "solver": {"status": "optimal", "gap": 0, "seconds": 1},
        "unmet": [],
        "weeks": [
            {
                "start": day.isoformat(),
                "phase": "general_strength",
                "sessions": [{"date": day.isoformat(), "items": [item]}],
            }
        ],
    }
    return StoredPlan.objects.create(
        athlete=athlete,
        number=1,
        plan=plan,
        made_from_revision=1,
        by=owner,
        accepted=timezone.now(),
    )


def filled(answer, **changes):
    """What a browser would send of the page's forms, with changes typed in."""
    context = answer.context
    forms = [context["form"]] if context.get("form") else list(context.get("forms", ()))
    forms += list(context.get("uses", ()))
    data = {"revision": str(context["copy"].revision)}
    if context.get("seen"):
        data["seen"] = context["seen"]
    for form in forms:
        for field in form:
            value = field.value()
            if value is True:
                data[field.html_name] = "on"
            elif value not in (None, False):
                data[field.html_name] = value
    return data | changes


def sent(client, address, **changes):
    return client.post(address, filled(client.get(address), **changes))


def test_the_method_that_ships_is_read_with_its_sources(coach):
    page = coach.get(reverse("shipped-method")).content.decode()
    method = load_method()
    for phase in method.phases:
        assert phase.name in page
    assert "Bedoya et al. 2015" in page
    assert "Jiménez-Reyes et al. 2017" in page
    assert "Change" not in page.split("</header>")[1]


def test_an_exercise_is_read_with_what_must_be_true_and_who_should_not(coach):
    page = coach.get(reverse("shipped-exercise", args=["depth_jump"])).content.decode()
    assert "1.5 × body mass" in page
    assert "sore knee" in page
    assert "Wallace et al. 2010" in page
    assert "46 cm" in page


def test_heights_are_told_in_the_reader_s_unit(coach, owner):
    owner.length_unit = "in"
    owner.save()
    page = coach.get(reverse("shipped-exercise", args=["depth_jump"])).content.decode()
    assert "18.1 in" in page


@pytest.mark.parametrize(
    ("asked", "there", "not_there"),
    [
        ({"q": "squat"}, "front squat", "pogo"),
        ({"family": "depth_jump"}, "depth jump", "back squat"),
        ({"quality": "max_strength", "place": "support"}, "calf raise", "back squat"),
        ({"q": "elbows high"}, "front squat", "box squat"),
    ],
)
def test_exercises_are_found_by_text_kind_and_quality(coach, asked, there, not_there):
    answer = coach.get(reverse("shipped-exercises"), asked)
    listed = answer.content.decode().split('id="exercises"')[1]
    assert there in listed
    assert not_there not in listed
    part = coach.get(reverse("shipped-exercises"), asked, headers={"HX-Request": "true"})
    assert part.templates[0].name == "methods/_exercises.html"


def test_no_exercise_like_that_is_said(coach):
    assert (
        "No exercise is like that"
        in coach.get(reverse("shipped-exercises"), {"q": "unicycle"}).content.decode()
    )


def test_a_copy_is_made_and_changed_without_touching_the_original(coach, owner, mine):
    answer = coach.post(reverse("copy-method", args=[mine.pk]), {"name": "For juniors"})
    copy = owner.methods.get(name="For juniors")
    assert answer.url == reverse("method", args=[copy.pk])
    assert copy_read(copy).name == "For juniors"
    coach.post(reverse("copy-shipped-method"), {"name": "Plain"})
    assert copy_read(owner.methods.get(name="Plain")).phases == load_method().phases


def test_an_exercise_is_changed_in_a_form_and_only_the_change_is_written(coach, mine):
    address = reverse("change-exercise", args=[mine.pk, "box_jump"])
    answer = sent(coach, address, sets="2 to 4", cues="Land quietly.\nStep down.")
    assert answer.url == reverse("method-exercise", args=[mine.pk, "box_jump"])
    mine.refresh_from_db()
    table = mine.text.split("[exercise.box_jump]\n")[1]
    assert table == 'sets = [2, 4]\ncues = ["Land quietly.", "Step down."]\n'
    assert mine.revision == 2
    assert AuditEntry.objects.filter(action="method_changed").count() == 1


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_form_sent_untouched_changes_nothing(coach, owner, mine, language):
    type(owner).objects.filter(pk=owner.pk).update(language=language)
    for name in list(load_method().exercises)[::6]:
        address = reverse("change-exercise", args=[mine.pk, name])
        assert sent(coach, address).status_code == 302, name
    for index in (0, 3):
        assert sent(coach, reverse("method-phase", args=[mine.pk, index])).status_code == 302
    for section in ("week", "unloading", "landing_steps", "day"):
        assert sent(coach, reverse("method-section", args=[mine.pk, section])).status_code == 302
    mine.refresh_from_db()
    assert mine.revision == 1


def test_faults_of_the_file_stand_at_their_fields(coach, mine):
    address = reverse("change-exercise", args=[mine.pk, "depth_jump"])
    answer = sent(
        coach, address, sets="0 to 2", landing__cost="9", name="", height__range_m="20 to 190"
    )
    assert answer.status_code == 422
    errors = answer.context["form"].errors
    assert "least allowed is 1" in errors["sets"][0]
    assert "most allowed is 5" in errors["landing__cost"][0]
    assert "missing" in errors["name"][0]
    assert "1.5 m" in errors["height__range_m"][0]
    mine.refresh_from_db()
    assert mine.revision == 1


def test_what_is_no_number_is_said_at_the_field(coach, mine):
    address = reverse("method-section", args=[mine.pk, "back_off"])
    errors = sent(coach, address, every_weeks="often").context["forms"][0].errors
    assert set(errors) == {"every_weeks"}
    assert set(sent(coach, address, every_weeks="1").context["forms"][0].errors) == {"every_weeks"}


def test_heights_come_in_the_coach_s_unit(coach, owner, mine):
    owner.length_unit = "in"
    owner.save()
    address = reverse("change-exercise", args=[mine.pk, "depth_jump"])
    page = sent(coach, address, limit_heavy="16")
    assert page.status_code == 302
    mine.refresh_from_db()
    height = copy_read(mine).exercises["depth_jump"].height
    assert [limit.max_m for limit in height.limits] == [0.4064, 0.3]


def test_the_rules_of_a_day_are_read_and_changed_in_a_form(coach, mine):
    page = coach.get(reverse("method", args=[mine.pk])).content.decode()
    assert "Rise above the plan, at most" in page
    assert "After a missed repetition the load falls" in page
    address = reverse("method-section", args=[mine.pk, "day"])

    assert sent(coach, address, missed_sets="1", drop_by="rsi").status_code == 302

    mine.refresh_from_db()
    day = copy_read(mine).day
    assert (day.missed_sets, day.drop_by) == (1, "rsi")
    assert day.most_rise == load_method().day.most_rise


def test_a_new_exercise_like_another(coach, mine):
    address = reverse("add-exercise", args=[mine.pk]) + "?like=box_jump"
    answer = sent(coach, address, identifier="low_box", name="low box jump", sets="2")
    assert answer.status_code == 302
    mine.refresh_from_db()
    made = copy_read(mine).exercises["low_box"]
    assert (made.name, made.sets.low, made.sets.high) == ("low box jump", 2, 2)
    again = sent(coach, address, identifier="low_box")
    assert "already" in again.context["form"].errors["identifier"][0]


def test_an_exercise_of_a_kind_of_its_own_and_then_removed(coach, mine):
    address = reverse("add-exercise", args=[mine.pk])
    answer = sent(
        coach, address, identifier="band_jump", name="band jump", place="speed",
        family_of_its_own="band jump", sets="2-4", reps="3", per_week="0 to 2", rep_s="2",
        rest_s="90",
    )  # fmt: skip
    assert answer.status_code == 302, answer.context["form"].errors
    mine.refresh_from_db()
    assert copy_read(mine).exercises["band_jump"].families == {"band_jump"}
    gone = coach.post(
        reverse("reset-exercise", args=[mine.pk, "band_jump"]), {"revision": mine.revision}
    )
    assert gone.status_code == 302
    mine.refresh_from_db()
    assert "band_jump" not in copy_read(mine).exercises


def test_a_phase_and_how_it_uses_exercises(coach, mine):
    address = reverse("method-phase", args=[mine.pk, 0])
    answer = sent(
        coach, address, weeks="3 to 20",
        **{"use-1-sets": "3 to 6", "use-6-leave_out": "on", "use-12-family": "sprint",
           "use-12-rule": "upkeep", "use-12-per_week": "0 to 1", "use-12-sets": "1",
           "use-12-reps": "2 to 4"},
    )  # fmt: skip
    assert answer.status_code == 302
    mine.refresh_from_db()
    phase = copy_read(mine).phases[0]
    assert (phase.weeks.low, phase.weeks.high) == (3, 20)
    assert phase.uses[1].sets.high == 6
    families = [use.family for use in phase.uses]
    assert "box_jump" not in families
    assert families[-1] == "sprint"


def test_a_fault_in_a_use_stands_in_its_row(coach, mine):
    address = reverse("method-phase", args=[mine.pk, 1])
    answer = sent(coach, address, **{"use-0-leave_out": "on", "use-2-sets": "9 to 2"})
    assert "backwards" in answer.context["uses"][2].errors["sets"][0]


def test_jumps_in_the_unloading_are_refused(coach, mine):
    address = reverse("method-phase", args=[mine.pk, 4])
    answer = sent(
        coach, address,
        **{"use-5-family": "box_jump", "use-5-rule": "unloading", "use-5-per_week": "0 to 1",
           "use-5-sets": "2", "use-5-reps": "3"},
    )  # fmt: skip
    assert answer.status_code == 422
    assert "landings" in str(answer.context["uses"][5].non_field_errors())


def test_a_phase_comes_after_another_gets_a_share_and_goes(coach, mine):
    answer = sent(coach, reverse("add-phase", args=[mine.pk, 2]), identifier="jumps", name="jumps")
    assert answer.url == reverse("method-phase", args=[mine.pk, 3])
    share = reverse("method-entry", args=[mine.pk, "emphasis", 4])
    wrong = sent(coach, share, shares__jumps="0.2")
    assert "add up to 1.2" in str(wrong.context["forms"][0].errors)
    assert sent(coach, share, shares__jumps="0.2", shares__speed_strength="0.13").status_code == 302
    mine.refresh_from_db()
    refused = coach.post(
        reverse("remove-method-entry", args=[mine.pk, "phase", 3]), {"revision": mine.revision}
    )
    assert refused.status_code == 422
    assert b"How the building weeks are shared out, number 5: " in refused.content
    assert b"emphasis[4]" not in refused.content
    sent(coach, share, shares__jumps="", shares__speed_strength="0.33")
    mine.refresh_from_db()
    gone = coach.post(
        reverse("remove-method-entry", args=[mine.pk, "phase", 3]), {"revision": mine.revision}
    )
    assert gone.status_code == 302
    mine.refresh_from_db()
    assert copy_read(mine).phases == load_method().phases


def test_rules_and_limits_are_added_changed_and_removed(coach, mine):
    assert (
        sent(
            coach, reverse("method-rule", args=[mine.pk, "week"]), text="Three times a week."
        ).status_code
        == 302
    )
    added = sent(
        coach, reverse("add-rule", args=[mine.pk]),
        identifier="sprints_apart", text="Sprints two days apart.", source="judgement",
    )  # fmt: skip
    assert added.status_code == 302
    limit = sent(
        coach, reverse("add-method-entry", args=[mine.pk, "spacing"]),
        family="sprint", days="2", days_minors="2", rule="sprints_apart",
    )  # fmt: skip
    assert limit.status_code == 302
    mine.refresh_from_db()
    method = copy_read(mine)
    assert method.rules["week"].text == "Three times a week."
    assert method.spacings[-1].rule == "sprints_apart"
    coach.post(
        reverse("remove-method-entry", args=[mine.pk, "spacing", 7]), {"revision": mine.revision}
    )
    mine.refresh_from_db()
    assert copy_read(mine).spacings == load_method().spacings


def test_a_change_that_touches_a_plan_is_seen_before_it_is_made(coach, used, planned):
    address = reverse("change-exercise", args=[used.pk, "box_jump"])
    shown = sent(coach, address, sets="2 to 3")
    assert shown.status_code == 200
    page = shown.content.decode()
    assert "Ada Ilves" in page
    assert "box jump" in re.sub(r"\s+", " ", page.split("brings-title")[2]).casefold()
    used.refresh_from_db()
    assert used.revision == 1
    assert coach.post(address, filled(shown)).status_code == 302
    used.refresh_from_db()
    assert used.revision == 2


def test_what_was_seen_holds_for_that_change_alone(coach, used, planned):
    address = reverse("change-exercise", args=[used.pk, "box_jump"])
    shown = sent(coach, address, sets="2 to 3")
    other = coach.post(address, filled(shown, sets="1 to 6"))
    assert other.status_code == 200
    used.refresh_from_db()
    assert used.revision == 1


def test_a_change_that_no_plan_uses_is_made_at_once(coach, used, planned):
    address = reverse("change-exercise", args=[used.pk, "hurdle_hops"])
    assert sent(coach, address, sets="2 to 3").status_code == 302


def test_less_caution_is_said_before_it_is_kept(coach, mine):
    address = reverse("change-exercise", args=[mine.pk, "depth_jump"])
    shown = sent(coach, address, needs__squat_per_mass="1", needs__pain="any")
    assert shown.status_code == 200
    assert "less caution" in shown.content.decode()
    assert coach.post(address, filled(shown)).status_code == 302
    page = coach.get(reverse("method-exercise", args=[mine.pk, "depth_jump"])).content.decode()
    assert "a lower squat, more pain" in page
    mine.refresh_from_db()
    back = coach.post(
        reverse("reset-exercise", args=[mine.pk, "depth_jump"]), {"revision": mine.revision}
    )
    assert back.status_code == 302
    mine.refresh_from_db()
    assert copy_read(mine).exercises == load_method().exercises


def test_more_landings_are_said_before_they_are_kept(coach, mine):
    address = reverse("method-entry", args=[mine.pk, "budget", 3])
    shown = sent(coach, address, per_session="90")
    assert shown.status_code == 200
    assert "landing budgets: more landings" in shown.content.decode()
    assert sent(coach, address, per_session="50").status_code == 302


def test_two_windows_are_told_and_nothing_is_lost(coach, mine):
    address = reverse("method-section", args=[mine.pk, "back_off"])
    first, second = coach.get(address), coach.get(address)
    assert coach.post(address, filled(first, every_weeks="3")).status_code == 302
    late = coach.post(address, filled(second, every_weeks="5"))
    assert late.status_code == 409
    mine.refresh_from_db()
    assert copy_read(mine).back_off.every_weeks == 3
    assert coach.post(address, {"every_weeks": "6"}).status_code == 400


def test_the_text_is_changed_with_faults_by_line(coach, mine):
    address = reverse("method-text", args=[mine.pk])
    wrong = mine.text.replace("every_weeks = 4", "every_weeks = 0")
    line = wrong.split("\n").index("every_weeks = 0") + 1
    answer = coach.post(address, {"text": wrong, "revision": 1})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert f"line {line}, back_off.every_weeks" in page
    assert "<code>every_weeks = 0</code>" in page
    right = "# from our camp\r\n" + mine.text.replace("\n", "\r\n")
    assert coach.post(address, {"text": right, "revision": 1}).status_code == 302
    mine.refresh_from_db()
    assert mine.text.startswith("# from our camp\n")
    assert "\r" not in mine.text


def test_a_copy_goes_out_as_a_file_and_comes_in_again(coach, owner, mine):
    sent(coach, reverse("change-exercise", args=[mine.pk, "box_jump"]), sets="2 to 4")
    mine.refresh_from_db()
    file = coach.get(reverse("method-file", args=[mine.pk]))
    assert 'filename="ours.toml"' in file["Content-Disposition"]
    upload = SimpleUploadedFile("../evil.toml", b"\xef\xbb\xbf" + file.content)
    answer = coach.post(reverse("bring-in-method"), {"file": upload})
    again = owner.methods.exclude(pk=mine.pk).get()
    assert answer.url == reverse("method", args=[again.pk])
    assert again.text == mine.text


def test_the_method_that_ships_goes_out_whole(coach):
    text = coach.get(reverse("shipped-method-file")).content.decode()
    assert parse_method(text) == load_method()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b'name = "x"\n[back_off]\nevery_weeks = 4\n', "line 2, back_off.rule"),
        (b"name = Ours\n", "line 1, the text"),
        (b"\xff\xfe", "UTF-8"),
        (b"#" * 500_001, "500 kB"),
        (b"a = " + b"[" * 50_000, "too deep"),
        (b'name = "x"\n[exercise."a/b"]\nname = "y"\n', "other marks"),
    ],
)
def test_a_file_at_fault_is_told_and_not_kept(coach, owner, data, said):
    answer = coach.post(reverse("bring-in-method"), {"file": SimpleUploadedFile("m.toml", data)})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not owner.methods.exists()


def test_a_file_at_fault_can_be_mended_on_the_page(coach, owner):
    upload = SimpleUploadedFile("m.toml", b'name = "camp"\n[week]\nsets = 500\n')
    page = coach.post(reverse("bring-in-method"), {"file": upload})
    assert "sets = 500" in page.content.decode()
    coach.post(reverse("bring-in-method"), {"text": 'name = "camp"\n'})
    assert owner.methods.get().name == "camp"


def test_a_name_with_marks_that_no_page_shows_is_tidied(coach, owner):
    upload = SimpleUploadedFile("m.toml", b'name = "ca\\u0000mp"\n')
    coach.post(reverse("bring-in-method"), {"file": upload})
    assert owner.methods.get().name == "camp"


def test_a_squad_s_method_is_chosen_once_its_plans_are_seen(coach, owner, squad, mine, planned):
    text = mine.text + "\n[exercise.box_jump]\nsets = [2, 2]\n"
    MethodCopy.objects.filter(pk=mine.pk).update(text=text)
    address = reverse("choose-method", args=[squad.pk])
    shown = coach.post(address, {"method": str(mine.pk)})
    assert "Ada Ilves" in shown.content.decode()
    squad.refresh_from_db()
    assert squad.method is None
    coach.post(address, {"method": str(mine.pk), "seen": shown.context["seen"]})
    squad.refresh_from_db()
    assert squad.method == mine
    assert method_of(squad).exercises["box_jump"].sets.high == 2


def test_a_copy_in_use_is_not_deleted_without_saying_so_and_comes_back(coach, squad, used):
    page = coach.get(reverse("delete-method", args=[used.pk])).content.decode()
    assert "It is in use" in page
    assert "Fjord Jumpers" in page
    coach.post(reverse("delete-method", args=[used.pk]))
    squad.refresh_from_db()
    assert squad.method is None
    assert coach.get(reverse("method", args=[used.pk])).status_code == 404
    assert "Bring it back" in coach.get(reverse("methods")).content.decode()
    coach.post(reverse("bring-back-method", args=[used.pk]))
    assert coach.get(reverse("method", args=[used.pk])).status_code == 200


def test_a_copy_that_is_at_fault_can_only_be_mended(coach, owner):
    broken = MethodCopy.objects.create(owner=owner, name="Old", text='name = "old"\nwek = 1\n')
    page = coach.get(reverse("method", args=[broken.pk]))
    assert page.status_code == 422
    assert "line 2, wek" in page.content.decode()
    owner.language = "de"
    owner.save()
    assert "Zeile 2, wek" in coach.get(reverse("method", args=[broken.pk])).content.decode()
    owner.language = "en"
    owner.save()
    assert coach.get(reverse("method-phase", args=[broken.pk, 0])).status_code == 422
    text = reverse("method-text", args=[broken.pk])
    assert "line 2, wek" in coach.get(text).content.decode()
    assert coach.post(text, {"text": 'name = "old"\n', "revision": 1}).status_code == 302


def test_a_copy_is_its_owner_s_alone(client_of, squad, editor, reader, outsider, used):
    for person in (editor, reader, outsider):
        client = client_of(person)
        for name in ("method", "method-text", "method-file", "method-exercises", "copy-method"):
            assert client.get(reverse(name, args=[used.pk])).status_code == 404
        assert (
            client.post(reverse("choose-method", args=[squad.pk]), {"method": ""}).status_code
            == 404
        )
        assert "Ours" not in client.get(reverse("methods")).content.decode()
    assert (
        "the method that Olga chose" in client_of(editor).get(reverse("methods")).content.decode()
    )
    squad.refresh_from_db()
    assert squad.method == used


def test_another_s_deleted_copy_stays_deleted(client_of, owner, outsider, mine):
    mine.deleted = timezone.now()
    mine.save()
    address = reverse("bring-back-method", args=[mine.pk])
    assert client_of(outsider).post(address).status_code == 404
    mine.refresh_from_db()
    assert mine.deleted is not None


def test_a_squad_cannot_be_given_another_s_copy(client_of, outsider, mine):
    other = Squad.objects.get(owner=outsider)
    address = reverse("choose-method", args=[other.pk])
    assert client_of(outsider).post(address, {"method": str(mine.pk)}).status_code == 404


def test_the_text_that_ships_is_a_whole_copy(mine):
    assert mine.text.replace('name = "Ours"', "").strip() != ""
    assert mine.text.count("\n") == shipped_text("method.toml").count("\n")
