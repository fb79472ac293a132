import re

import pytest
from django.urls import reverse

from saltus.athlete.qualities import TRAINABLE
from saltus.web import assessments
from saltus.web.models import Athlete, MethodCopy, StoredAssessment
from saltus.web.records import add_athlete, change_record

pytestmark = pytest.mark.django_db

HTMX = {"HX-Request": "true"}


def page(client, athlete, name="athlete", **how):
    return client.get(reverse(name, args=[athlete.pk]), **how)


def test_everything_kept_is_told(coach, assessed):
    answer = page(coach, assessed)
    html = answer.content.decode()
    document = assessed.assessment.document

    assert answer.status_code == 200
    assert f"{100 * document['jump']['estimate']:.1f}" in html
    for words in (
        "Ada Ilves",
        "The jump over time",
        "Tests to do next",
        "Force-velocity profile",
        "the mark",
        "back squat, maximum",
        "squat jump with 20 kg",
        "left knee",
        "no depth jumps from 1 Oct 2026",
        "Sleeps badly before matches.",
        "tape",
    ):
        assert words in html
    assert document["next_tests"][0]["title"] in html
    assert "being worked out" not in html
    assert 'hx-trigger="load"' not in html


def test_nothing_is_computed_and_the_record_not_read_with_a_kept_assessment(
    coach, assessed, monkeypatch, django_assert_max_num_queries
):
    def refuse(*args, **more):
        raise AssertionError("computed or parsed")

    monkeypatch.setattr("saltus.web.assessments.posterior_of", refuse)
    monkeypatch.setattr("saltus.web.athletes.about_now.record_of", refuse)

    with django_assert_max_num_queries(9):
        assert page(coach, assessed).status_code == 200


def test_every_quality_tells_its_tests(coach, assessed):
    html = page(coach, assessed).content.decode()

    strength = html.split('id="quality-max_strength"')[1].split("</section>")[0]
    assert "Which tests this comes from" in strength
    assert "back squat of 6 Oct 2026" in strength
    assert "95.0 kg" in strength
    assert html.count("Which tests this comes from") == 7
    worth = html.split('id="worth"')[1].split("</section>")[0]
    assert worth.count("back squat of 6 Oct 2026") >= 2


def test_long_tables_go_on_on_a_page_of_their_own(
    coach, client_of, outsider, assessed, monkeypatch
):
    monkeypatch.setattr("saltus.web.athletes.views._ROWS_SHOWN", 2)
    monkeypatch.setattr("saltus.web.athletes.views._TESTS_SHOWN", 3)
    html = page(coach, assessed).content.decode()

    links = set(re.findall(r'href="(/athletes/[^"]*/(?:tables|tests)/[^"]*)"', html))
    # Jump and qualities over time, where jump, qualities and worths come from, tests.
    assert len(links) == 6 + 6 + 4 + 1
    for link in links:
        answer = coach.get(link)
        assert answer.status_code == 200
        assert answer.content.decode().count("<tr>") > 4
        assert client_of(outsider).get(link).status_code == 404
    assert (
        coach.get(reverse("athlete-table", args=[assessed.pk, "from-nothing"])).status_code == 404
    )


def test_every_chart_has_words_and_a_table(coach, assessed):
    html = page(coach, assessed).content.decode()

    figures = re.findall(r"<figure data-chart=.*?</figure>", html, re.DOTALL)
    assert len(figures) == 8
    for figure in figures:
        assert re.search(r'role="img" aria-label="[^"]{20,}"', figure)
        assert "<table>" in figure


def test_no_script_and_no_style_stands_in_the_page(coach, assessed):
    html = page(coach, assessed).content.decode()

    assert " style=" not in html
    assert "<style" not in html
    assert all(" src=" in script for script in re.findall(r"<script[^>]*>", html))


def test_units_are_the_readers(coach, owner, assessed):
    owner.length_unit, owner.mass_unit = "in", "lb"
    owner.save()
    html = page(coach, assessed).content.decode()

    inches = assessed.assessment.document["jump"]["estimate"] / 0.0254
    assert f"{inches:.1f}" in html
    assert "209.4 lb" in html  # 95 kg


def test_health_is_for_the_owner_and_whom_the_athlete_allows(
    client_of, coach, reader, editor, assessed
):
    secrets = ("left knee", "depth jump", "Sleeps badly", "the knee")

    own = page(coach, assessed).content.decode()
    assert all(secret in own for secret in secrets)
    for other in (reader, editor):
        for name in ("athlete", "athlete-assessment", "athlete-what-if"):
            html = page(client_of(other), assessed, name).content.decode()
            assert not any(secret in html for secret in secrets)
            assert "not shown to you" in html

    reader.shares.update(sees_health=True)
    assert "left knee" not in page(client_of(reader), assessed).content.decode()
    Athlete.objects.filter(pk=assessed.pk).update(health_shared=True)
    assert "left knee" in page(client_of(reader), assessed).content.decode()


@pytest.mark.parametrize("name", ["athlete", "athlete-assessment", "athlete-what-if"])
def test_nobody_sees_what_is_not_theirs(client, client_of, outsider, assessed, name):
    assert page(client_of(outsider), assessed, name).status_code == 404
    assert page(client, assessed, name).status_code == 302


def test_a_first_visit_has_the_figures_fetched(coach, tested):
    html = page(coach, tested).content.decode()

    assert "The figures are being worked out." in html
    assert 'hx-trigger="load"' in html
    assert "back squat, maximum" in html


def test_the_partial_works_them_out_and_keeps_them(coach, tested):
    answer = page(coach, tested, "athlete-assessment", headers=HTMX)
    html = answer.content.decode()

    assert "<html" not in html
    assert 'id="assessment"' in html
    assert 'hx-trigger="load"' not in html
    assert StoredAssessment.objects.get(athlete=tested).inputs == assessments.inputs_of(tested)


def test_an_old_assessment_is_shown_with_a_note_until_the_new_one_is_there(
    coach, owner, assessed, monkeypatch
):
    from dataclasses import replace

    def stronger(record):
        *tests, squat = record.tests
        return replace(record, tests=(*tests, replace(squat, load_kg=120.0)))

    change_record(assessed, owner, stronger, what="squat")
    html = page(coach, assessed).content.decode()

    assert "figures from before" in html
    assert "120" in html.split('id="tests"')[1]  # the record itself is told as it is
    old = assessed.assessment.document["jump"]["estimate"]
    assert f"{100 * old:.1f}" in html


def test_why_an_athlete_cannot_be_assessed_is_said_and_not_asked_again(
    coach, squad, owner, tested_text, client_of, reader
):
    test = '\n[[test]]\nkind = "recording"\ndate = 2026-10-07\nfile = "gone.csv"\n'
    new = add_athlete(squad, tested_text + test, owner)

    html = page(coach, new, "athlete-assessment", headers=HTMX).content.decode()

    assert "no recording gone.csv" in html
    assert 'hx-trigger="load"' not in html
    assert page(coach, new).status_code == 200
    others = page(client_of(reader), new, "athlete-assessment").content.decode()
    assert "can see why" in others
    assert "gone.csv" not in others.split('id="assessment"')[1].split('id="tests"')[0]


def test_without_javascript_the_figures_are_had_by_a_link(coach, tested):
    link = reverse("athlete-assessment", args=[tested.pk])
    assert f'href="{link}"' in page(coach, tested).content.decode()

    html = coach.get(link).content.decode()

    assert "<html" in html
    assert "What a block is worth" in html
    assert "being worked out" not in html


def test_a_fault_of_ours_is_said_and_noted(coach, tested, monkeypatch, caplog):
    def fail(*args, **more):
        raise FloatingPointError("no")

    monkeypatch.setattr("saltus.web.assessments.posterior_of", fail)

    html = page(coach, tested, "athlete-assessment", headers=HTMX).content.decode()

    assert "The fault is ours" in html
    assert "An assessment failed" in caplog.text


def test_undecided_is_said_with_the_test_that_would_decide(coach, assessed):
    kept = assessed.assessment
    kept.document["limiting"] = kept.document["limiting"] | {"quality": None, "probability": 0.5}
    kept.save()

    html = page(coach, assessed).content.decode()

    assert "undecided" in html
    assert "leads with 50 %" in html
    assert kept.document["next_tests"][0]["title"] in html.split("athlete-todo")[1].split("</p>")[0]


def test_without_tests_the_first_thing_is_to_test(coach, squad, owner):
    text = (
        'saltus_record = 1\n[athlete]\nname = "Noa"\n'
        "[[body_mass]]\ndate = 2026-10-01\nmass_kg = 60\n"
    )
    new = add_athlete(squad, text, owner)

    html = page(coach, new, "athlete-assessment").content.decode()

    assert "Test first" in html
    assert "No test says anything of this yet" in html
    assert 'name="body_mass"' not in html  # the age is not known


def test_what_is_kept_depends_on_the_method_only_where_there_is_a_log(tested, owner):
    def inputs_with(text):
        copy = MethodCopy.objects.create(owner=owner, name="own", text=text)
        tested.squad.method = copy
        return assessments.inputs_of(tested)

    assert inputs_with("name = 'one'") == inputs_with("name = 'two'")
    tested.text += "\n[[session]]\ndate = 2026-11-01\n"
    assert inputs_with("name = 'one'") != inputs_with("name = 'two'")


def test_what_follows_an_athlete_is_kept_beside_the_assessment(assessed):
    told = assessed.assessment.document["follow"]

    assert {"changes", "plateau", "response", "learnt"} <= set(told)
    assert told["retest"] is None
    assert set(told["learnt"]) == set(TRAINABLE)
    for change in told["changes"]:
        assert change["low"] <= change["estimate"] <= change["high"]
