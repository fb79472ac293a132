import pytest
from django.urls import reverse

from saltus.athlete.qualities import Quality
from saltus.athlete.worth import what_if_draws
from saltus.web.assessments import kept_draws

pytestmark = pytest.mark.django_db

HTMX = {"HX-Request": "true"}


def asked(client, athlete, htmx=True, **query):
    address = reverse("athlete-what-if", args=[athlete.pk])
    return client.get(address, query, headers=HTMX if htmx else {})


def test_the_answer_is_that_of_the_model(coach, assessed):
    state, segment = kept_draws(assessed.assessment)
    factors = {Quality.MAX_STRENGTH: 1.1}
    jump, change = what_if_draws(state, segment, 70.0, factors)

    html = asked(coach, assessed, max_strength=10).content.decode()

    assert "<html" not in html
    assert f"{100 * jump.value:.1f}" in html
    assert f"{100 * change.value:+.1f} cm" in html
    assert change.value > 0.005


def test_the_kept_draws_say_what_the_assessment_says(assessed):
    state, segment = kept_draws(assessed.assessment)

    jump, _ = what_if_draws(state, segment, 70.0, {})

    assert jump.value == pytest.approx(assessed.assessment.document["jump"]["estimate"], abs=0.002)


def test_without_javascript_the_whole_page_answers(coach, assessed):
    html = asked(coach, assessed, htmx=False, push_off_speed=5).content.decode()

    assert "<html" in html
    assert 'value="5"' in html
    assert "Move a slider" not in html


def test_out_of_range_is_refused_with_words(coach, assessed):
    html = asked(coach, assessed, htmx=False, max_strength=4000).content.decode()

    assert "less than or equal to 40" in html


def test_body_mass_may_be_asked_of_adults(coach, assessed):
    html = asked(coach, assessed, htmx=False, body_mass=3).content.decode()

    assert 'name="body_mass"' in html
    lighter = asked(coach, assessed, body_mass=-3).content.decode()
    heavier = asked(coach, assessed, body_mass=3).content.decode()
    assert lighter != heavier
    assert "+" in lighter


def test_body_mass_is_withheld_from_minors_even_if_it_is_asked(coach, assessed):
    kept = assessed.assessment
    kept.document["body_mass_effect_m"] = None  # as it is of minors
    kept.save()

    html = asked(coach, assessed, htmx=False, body_mass=-5, max_strength=0).content.decode()

    assert 'name="body_mass"' not in html
    answer = asked(coach, assessed, body_mass=-5, max_strength=0).content.decode()
    assert "+0.0 cm" in answer


def test_before_the_first_assessment_there_is_nothing_to_ask(coach, tested):
    assert asked(coach, tested, max_strength=5).status_code == 404
